package tappet.bridge.field;

import java.util.Optional;
import tappet.interlocking.Emergency;
import tappet.interlocking.Input;
import tappet.layout.LockState;
import tappet.layout.Position;
import tappet.sentence.Condition.Occupancy;

/** What an event from the field says. */
sealed interface Meaning {

  /** The device it speaks of; ids of sections and switches are kept apart by the kind. */
  String device();

  /** The device as the network has it. */
  default String key() {
    return device();
  }

  /** What the interlocking learns when it is said. */
  Input reported();

  /** What it learns when nothing is known of the device any more; empty: nothing. */
  Optional<Input> unknown();

  /** Whether it happens, and is no state to be kept. */
  default boolean isMoment() {
    return false;
  }

  /** Whether nobody can be asked for it: only a report says so. */
  default boolean onlyByReport() {
    return isMoment();
  }

  /** It happens, and is no state to be kept: there is nothing to be lost of it. */
  sealed interface Moment extends Meaning {
    @Override
    default Optional<Input> unknown() {
      return Optional.empty();
    }

    @Override
    default boolean isMoment() {
      return true;
    }
  }

  /** A section is occupied or clear. */
  record SectionIs(String section, Occupancy occupancy) implements Meaning {
    @Override
    public String device() {
      return "section " + section;
    }

    @Override
    public Input reported() {
      return new Input.SectionReport(section, occupancy);
    }

    @Override
    public Optional<Input> unknown() {
      return Optional.of(new Input.SectionReport(section, Occupancy.UNKNOWN));
    }
  }

  /** A switch is detected in a position. */
  record SwitchIs(String switchId, Position position) implements Meaning {
    @Override
    public String device() {
      return "switch " + switchId;
    }

    @Override
    public Input reported() {
      return new Input.SwitchReport(switchId, Optional.of(position));
    }

    @Override
    public Optional<Input> unknown() {
      return Optional.of(new Input.SwitchReport(switchId, Optional.empty()));
    }
  }

  /** A lamp of a signal works, or has failed. */
  record LampIs(String signal, String lamp, boolean works) implements Meaning {
    @Override
    public String device() {
      return "lamp " + lamp + " of signal " + signal;
    }

    @Override
    public String key() {
      return "signal " + signal;
    }

    @Override
    public Input reported() {
      return new Input.LampReport(signal, lamp, Optional.of(works));
    }

    @Override
    public Optional<Input> unknown() {
      return Optional.of(new Input.LampReport(signal, lamp, Optional.empty()));
    }
  }

  /** A control beside the track asks for a position; it tells a moment, not a state. */
  record SwitchAsked(String switchId, Position position) implements Moment {
    @Override
    public String device() {
      return "control of switch " + switchId;
    }

    @Override
    public Input reported() {
      return new Input.SwitchAsked(switchId, position);
    }
  }

  /** An electric lock is detected to hold, or not to. */
  record LockIs(String switchId, LockState state) implements Meaning {
    @Override
    public String device() {
      return "lock of switch " + switchId;
    }

    @Override
    public String key() {
      return "lock " + switchId;
    }

    @Override
    public Input reported() {
      return new Input.LockReport(switchId, Optional.of(state));
    }

    @Override
    public Optional<Input> unknown() {
      return Optional.of(new Input.LockReport(switchId, Optional.empty()));
    }
  }

  /**
   * Another device is in one of its states.
   *
   * @param reported what is learnt when it comes to be so
   * @param found what is learnt when it tells, asked, that it is so
   * @param lost what is learnt when nothing is known of it any more
   */
  record DeviceIs(String device, Input reported, Input found, Input lost) implements Meaning {
    @Override
    public Optional<Input> unknown() {
      return Optional.of(lost);
    }
  }

  /** A train passes a spot: it happens, and is no state to be kept. */
  record Passes(String device, Input reported) implements Moment {}

  /** An emergency stands, or has been cleared; it is never forgotten until it is. */
  record EmergencyIs(Emergency kind, boolean stands) implements Meaning {
    @Override
    public String device() {
      return kind.word();
    }

    @Override
    public Input reported() {
      return new Input.EmergencyReport(kind, stands);
    }

    @Override
    public Optional<Input> unknown() {
      return Optional.empty();
    }

    @Override
    public boolean onlyByReport() {
      return true;
    }
  }
}
