package tappet.sentence;

import java.util.List;
import tappet.layout.LockState;
import tappet.layout.Position;
import tappet.source.Place;

/** Something about the railroad that is true or not. A place is where the name stands. */
public sealed interface Condition {

  /** What a section can be. */
  enum Occupancy {
    CLEAR,
    OCCUPIED,
    UNKNOWN
  }

  /** {@code section X is clear}. */
  record SectionIs(String section, Occupancy occupancy, Place place) implements Condition {}

  /** {@code switch X is reverse}: detected there. */
  record SwitchIs(String switchId, Position position, Place place) implements Condition {}

  /**
   * {@code signal X is approach}: shows that aspect.
   *
   * @param place where the signal's name stands
   * @param aspectPlace where the aspect's name stands
   */
  record SignalIs(String signal, String aspect, Place place, Place aspectPlace)
      implements Condition {}

  /**
   * {@code section X is under permit}, {@code section X is flagged}, {@code switch X is blocked}.
   *
   * @param device the id of the section, switch or signal
   */
  record IsProtected(String device, Protected by, Place place) implements Condition {}

  /** {@code route X is locked}: some of it is held. */
  record RouteIsLocked(String route, Place place) implements Condition {}

  /** {@code traffic midway is east}: trains may run that way over the line. */
  record TrafficIs(String line, Command.Heading heading, Place place) implements Condition {}

  /** {@code district X is tripped}: its breaker. */
  record DistrictIsTripped(String district, Place place) implements Condition {}

  /** What an opening can be. */
  enum OpeningState {
    CLOSED,
    OPEN,
    LOCKED,
    UNLOCKED
  }

  /** {@code opening X is closed}: detected so. */
  record OpeningIs(String opening, OpeningState state, Place place) implements Condition {}

  /** {@code grade crossing X is warning}. */
  record CrossingIsWarning(String crossing, Place place) implements Condition {}

  /**
   * {@code time is between 06:00 and 22:00}: by the fast clock, the first minute in and the last
   * one out. Where {@code from} is not before {@code to}, midnight lies between them.
   *
   * @param from minutes since midnight, 0 to 1439
   * @param to minutes since midnight, 0 to 1439
   */
  record TimeIsBetween(int from, int to, Place place) implements Condition {

    private static final int MINUTES_PER_HOUR = 60;

    /** Whether a minute of the day lies between the two. */
    public boolean contains(int minuteOfDay) {
      return from < to
          ? from <= minuteOfDay && minuteOfDay < to
          : from <= minuteOfDay || minuteOfDay < to;
    }

    /** As an owner writes it. */
    public String words() {
      return "time is between " + clock(from) + " and " + clock(to);
    }

    private static String clock(int minuteOfDay) {
      return "%02d:%02d".formatted(minuteOfDay / MINUTES_PER_HOUR, minuteOfDay % MINUTES_PER_HOUR);
    }
  }

  /** What only a scenario can speak of, since no board tells it to the interlocking. */
  sealed interface Seen extends Condition {}

  /** {@code train 'Extra 41' is on tilling-w}: some of it. */
  record TrainIsOn(String train, String section, Place place, Place sectionPlace) implements Seen {}

  /** {@code train 'Extra 41' waits at t2e}: it stands before that signal at Stop. */
  record TrainWaitsAt(String train, String signal, Place place, Place signalPlace)
      implements Seen {}

  /** What a train can be seen to be. */
  enum TrainState {
    STANDS,
    RUNS,
    WRECKED,
    /** Over a joint, or so near the points of a switch as to be in the way of its other leg. */
    FOUL,
    AT_END_OF_TRACK
  }

  /**
   * {@code train 'Extra 41' stands}, {@code runs}, {@code is wrecked}, {@code is foul}, {@code is
   * at end of track}.
   */
  record TrainIs(String train, TrainState state, Place place) implements Seen {}

  /**
   * {@code train 'Extra 41' has 3 cars}: besides its engine.
   *
   * @param cars 0 or more
   */
  record TrainHas(String train, int cars, Place place) implements Seen {}

  /** {@code lamp quarry-red is lit}: a lamp on the fascia. */
  record LampIsLit(String lamp, Place place) implements Seen {}

  /** {@code lock of q1 is released}: the bolt of the electric lock itself. */
  record LockIs(String switchId, LockState state, Place place) implements Seen {}

  /** {@code alarm 'is tripped' stands}: one that has these words in it. */
  record AlarmStands(String words, Place place) implements Seen {}

  /** All of them, two or more. */
  record All(List<Condition> parts) implements Condition {}

  /** At least one of them, two or more. */
  record Any(List<Condition> parts) implements Condition {}

  /** Not that. */
  record Not(Condition part) implements Condition {}
}
