package tappet.interlocking;

import java.util.Optional;
import java.util.OptionalInt;
import tappet.layout.LockState;
import tappet.layout.Position;
import tappet.sentence.Command;
import tappet.sentence.Command.Heading;
import tappet.sentence.Condition.Occupancy;

/** One thing that the interlocking is told. */
public sealed interface Input {

  /** What a section's detector reports; {@code UNKNOWN} where nothing is known any more. */
  record SectionReport(String section, Occupancy occupancy) implements Input {}

  /** The position a switch is detected in; empty while it moves or where nothing is known. */
  record SwitchReport(String switchId, Optional<Position> position) implements Input {}

  /** Whether a lamp of a signal works, as its board tells; empty where nothing is known. */
  record LampReport(String signal, String lamp, Optional<Boolean> works) implements Input {}

  /** A control beside the track asks for a position. */
  record SwitchAsked(String switchId, Position position) implements Input {}

  /** What an electric lock is detected to be; empty where nothing is known. */
  record LockReport(String switchId, Optional<LockState> state) implements Input {}

  /** An emergency has been called, or cleared. */
  record EmergencyReport(Emergency kind, boolean stands) implements Input {}

  /** The fast clock; empty where the time is not known. */
  record ClockReport(OptionalInt minuteOfDay) implements Input {}

  /** What a device that is neither section, switch nor signal reports. */
  sealed interface OfLineside extends Input {}

  /** Whether a power district's breaker has tripped; empty where nothing is known. */
  record DistrictReport(String district, Optional<Boolean> tripped) implements OfLineside {}

  /** Whether an opening is closed; empty where nothing is known. */
  record OpeningReport(String opening, Optional<Boolean> closed) implements OfLineside {}

  /** Whether an opening is locked; empty where nothing is known. */
  record BoltReport(String opening, Optional<Boolean> locked) implements OfLineside {}

  /**
   * Whether a button is pressed; empty where nothing is known.
   *
   * @param happened whether it was pressed or released just now, and not only found so
   */
  record ButtonReport(String button, Optional<Boolean> pressed, boolean happened)
      implements OfLineside {}

  /** A train passes a spot; the heading is empty where the detector does not tell it. */
  record SpotReport(String spot, Optional<Heading> heading) implements OfLineside {}

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
