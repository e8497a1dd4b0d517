package tappet.sentence;

import java.time.Duration;
import tappet.layout.Position;
import tappet.source.Place;

/**
 * Something that befalls the railroad in a scenario, or that people do to it with their hands. A
 * place is where the name stands.
 */
public sealed interface Happening {

  /** A device whose board tells in which of two states it is. */
  enum Reporter {
    SECTION("section"),
    SWITCH("switch"),
    LOCK("lock of"),
    OPENING("opening"),
    BOLT("bolt of"),
    BREAKER("breaker of");

    private final String words;

    Reporter(String words) {
      this.words = words;
    }

    /** How a sentence about it begins. */
    public String words() {
      return words;
    }
  }

  /** What a board says of a device, whatever the device is like. */
  sealed interface Report {

    /** One of its two states, as the sentence has it: {@code occupied}. */
    record Of(String state) implements Report {}

    /** Neither of its states, as a switch whose contacts are both open. */
    record Nothing() implements Report {}

    /** Both of its states, one after the other in the order of the layout file. */
    record Both() implements Report {}

    /** From now on again what is so. */
    record Truth() implements Report {}
  }

  /**
   * {@code section tilling-w reports clear}, {@code lock of q1 reports nothing}, {@code switch t1
   * reports the truth}: told at once, and whenever its board is asked, until it reports otherwise.
   *
   * @param id the section, switch, opening or power district
   */
  record Reports(Reporter reporter, String id, Report report, Place place) implements Happening {}

  /**
   * {@code section tilling-w flickers}: its detector keeps losing what stands there, for a second
   * in every two, as under a short train with dirty wheels; until it reports the truth.
   */
  record SectionFlickers(String section, Place place) implements Happening {}

  /**
   * {@code section mid-west is shorted}, {@code is mended}: metal lies across its rails, and the
   * breaker of its district trips as often as it is restored.
   */
  record SectionIsShorted(String section, boolean shorted, Place place) implements Happening {}

  /** {@code spot fallow-spot reports passed}: with no train there. */
  record SpotReports(String spot, String way, Place place) implements Happening {}

  /** {@code motor of t1 sticks}: it stops where it is, and stays. */
  record MotorSticks(String switchId, Place place) implements Happening {}

  /**
   * {@code motor of t1 takes 6 s}: from end to end, from now on; what is left of a movement takes
   * its part of that.
   *
   * @param time above 0
   */
  record MotorTakes(String switchId, Duration time, Place place) implements Happening {}

  /** {@code motor of t1 is mended}: it goes on, and as fast as ever. */
  record MotorIsMended(String switchId, Place place) implements Happening {}

  /** {@code bolt of doorway sticks}. */
  record BoltSticks(String opening, Place place) implements Happening {}

  /** {@code bolt of doorway is mended}. */
  record BoltIsMended(String opening, Place place) implements Happening {}

  /** {@code lamp top-green of t2e burns out}. */
  record LampBurnsOut(String lamp, String signal, Place place, Place signalPlace)
      implements Happening {}

  /** {@code lamp top-green of t2e is replaced}. */
  record LampIsReplaced(String lamp, String signal, Place place, Place signalPlace)
      implements Happening {}

  /** {@code breaker of east trips}: of that power district. */
  record BreakerTrips(String district, Place place) implements Happening {}

  /** {@code breaker of east is restored}. */
  record BreakerIsRestored(String district, Place place) implements Happening {}

  /** What can become of one event. */
  enum EventFault {
    /** The board does not hear the next event that is for it. */
    MISSES,
    /** The next event that the board sends reaches nobody. */
    LOSES,
    /** The next event that the board sends is sent twice. */
    REPEATS
  }

  /** {@code board tilling loses its next event}. */
  record BoardFails(String board, EventFault fault, Place place) implements Happening {}

  /**
   * {@code board tilling is late by 800 ms}: with every event it sends.
   *
   * @param delay 0 for a board that is on time again
   */
  record BoardIsLate(String board, Duration delay, Place place) implements Happening {}

  /** {@code board tilling falls silent}: it neither speaks nor hears; its outputs stay. */
  record BoardFallsSilent(String board, Place place) implements Happening {}

  /** {@code board tilling speaks again}: it begins anew. */
  record BoardSpeaksAgain(String board, Place place) implements Happening {}

  /** {@code board tilling reboots}: it loses its alias and begins anew. */
  record BoardReboots(String board, Place place) implements Happening {}

  /**
   * {@code board tilling browns out}: its power sinks too low for it. It says so while it can, its
   * lights go out and its motors stop; it is back when it reboots.
   */
  record BoardBrownsOut(String board, Place place) implements Happening {}

  /** {@code alias of tilling clashes}: a stranger on the bus speaks with the board's alias. */
  record AliasClashes(String board, Place place) implements Happening {}

  /** {@code opening doorway is opened}: by hand, locked or not. */
  record OpeningIsOpened(String opening, Place place) implements Happening {}

  /** {@code opening doorway is closed}: by hand. */
  record OpeningIsClosed(String opening, Place place) implements Happening {}

  /** {@code crew throws q1 reverse}: by its lever, if its lock lets it. */
  record CrewThrows(String switchId, Position position, Place place) implements Happening {}

  /** {@code crew forces t1 reverse}: with a hand at the points, whatever holds them. */
  record CrewForces(String switchId, Position position, Place place) implements Happening {}

  /** {@code crew asks for y3 reverse}: by the control beside the track. */
  record CrewAsks(String switchId, Position position, Place place) implements Happening {}

  /** {@code crew breaks lock of q1}: draws its bolt without leave. */
  record CrewBreaksLock(String switchId, Place place) implements Happening {}

  /** {@code button quarry-call is pressed}, {@code is released}. */
  record ButtonIs(String button, boolean pressed, Place place) implements Happening {}

  /** {@code cable is pulled}, {@code cable is plugged in}: the one between daemon and layout. */
  record CableIs(boolean plugged) implements Happening {}

  /**
   * {@code daemon is stopped}, {@code daemon is started}: as by a loss of its power alone. What it
   * keeps on disk is all that it knows afterwards.
   */
  record DaemonIs(boolean running) implements Happening {}

  /** {@code train 'Extra 41' is lifted}: off the track. */
  record TrainIsLifted(String train, Place place) implements Happening {}

  /** {@code train 'Extra 41' ignores signals}, {@code obeys signals}. */
  record Engineer(String train, boolean obeys, Place place) implements Happening {}

  /** {@code train 'Extra 41' loses its brakes}: it stops for nothing any more. */
  record TrainLosesBrakes(String train, Place place) implements Happening {}

  /** The emergencies that any node may call (S-9.7.0.4 §5.2). */
  enum EmergencyKind {
    OFF,
    STOP
  }

  /** {@code emergency stop is called}, {@code is cleared}: by some node on the bus. */
  record Emergency(EmergencyKind kind, boolean called) implements Happening {}
}
