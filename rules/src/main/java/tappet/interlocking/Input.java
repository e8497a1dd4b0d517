package tappet.interlocking;

import java.util.Optional;
import java.util.OptionalInt;
import tappet.layout.Position;
import tappet.sentence.Command;
import tappet.sentence.Condition.Occupancy;

/** One thing that the interlocking is told. */
public sealed interface Input {

  /** What a section's detector reports; {@code UNKNOWN} where nothing is known any more. */
  record SectionReport(String section, Occupancy occupancy) implements Input {}

  /** The position a switch is detected in; empty while it moves or where nothing is known. */
  record SwitchReport(String switchId, Optional<Position> position) implements Input {}

  /** An emergency has been called, or cleared. */
  record EmergencyReport(Emergency kind, boolean stands) implements Input {}

  /** The fast clock; empty where the time is not known. */
  record ClockReport(OptionalInt minuteOfDay) implements Input {}

  /**
   * What a person asks.
   *
   * @param moment when, for people to read
   */
  record Request(Command command, Moment moment) implements Input {

    /** Asked at no known moment. */
    public Request(Command command) {
      this(command, Moment.UNKNOWN);
    }
  }
}
