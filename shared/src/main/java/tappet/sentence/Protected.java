package tappet.sentence;

import java.util.Locale;

/** What people at work are protected by, and on which kind of device. */
public enum Protected {
  /** The section is under a permit: a crew holds it and moves there at its own word. */
  PERMIT(Device.SECTION),
  /** The signal's control is blocked. */
  BLOCKED_SIGNAL(Device.SIGNAL),
  /** The switch's control is blocked. */
  BLOCKED_SWITCH(Device.SWITCH),
  /** Every control that leads a train over the section is blocked. */
  BLOCKED_SECTION(Device.SECTION),
  /** The section is under a blue flag: people are on, under or between equipment there. */
  FLAG(Device.SECTION);

  /** The kinds of device that can be protected. */
  public enum Device {
    SIGNAL,
    SWITCH,
    SECTION;

    /** {@code signal}, {@code switch} or {@code section}. */
    public String word() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  private final Device device;

  Protected(Device device) {
    this.device = device;
  }

  /** The kind of device it is on. */
  public Device device() {
    return device;
  }

  /** A blocking of such a device. */
  public static Protected blocked(Device device) {
    return switch (device) {
      case SIGNAL -> BLOCKED_SIGNAL;
      case SWITCH -> BLOCKED_SWITCH;
      case SECTION -> BLOCKED_SECTION;
    };
  }
}
