package tappet.bridge.field;

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

  /** A section is occupied or clear. */
  record SectionIs(String section, Occupancy occupancy) implements Meaning {
    @Override
    public String device() {
      return "section " + section;
    }
  }

  /** A switch is detected in a position. */
  record SwitchIs(String switchId, Position position) implements Meaning {
    @Override
    public String device() {
      return "switch " + switchId;
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
  }

  /** A control beside the track asks for a position; it tells a moment, not a state. */
  record SwitchAsked(String switchId, Position position) implements Meaning {
    @Override
    public String device() {
      return "control of switch " + switchId;
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
  }

  /**
   * Another device is in one of its states.
   *
   * @param reported what is learnt when it comes to be so
   * @param found what is learnt when it tells, asked, that it is so
   * @param lost what is learnt when nothing is known of it any more
   */
  record DeviceIs(String device, Input reported, Input found, Input lost) implements Meaning {}

  /** A train passes a spot: it happens, and is no state to be kept. */
  record Passes(String device, Input reported) implements Meaning {}

  /** An emergency stands, or has been cleared. */
  record EmergencyIs(Emergency kind, boolean stands) implements Meaning {
    @Override
    public String device() {
      return kind.word();
    }
  }
}
