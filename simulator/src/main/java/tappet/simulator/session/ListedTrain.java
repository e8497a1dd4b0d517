package tappet.simulator.session;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.source.Place;

/**
 * A train of the list, and what it does in a run.
 *
 * @param name its name, which no other train has
 * @param lengthMetres from coupler to coupler, above 0
 * @param speedMetresPerSecond what it runs at where nothing restricts it, above 0
 * @param from where it begins
 * @param calls where it stops on the way, in order
 * @param to where it ends
 * @param start when it begins
 * @param then what becomes of it at its end
 * @param again how much later its next run is planned; empty where it runs once
 * @param place where it stands in the file
 */
public record ListedTrain(
    String name,
    double lengthMetres,
    double speedMetresPerSecond,
    Named from,
    List<Call> calls,
    Named to,
    Start start,
    Then then,
    Optional<Duration> again,
    Place place) {

  public ListedTrain {
    calls = List.copyOf(calls);
  }

  /**
   * The name of a section, a switch or a train.
   *
   * @param place where it stands in the file
   */
  public record Named(String name, Place place) {}

  /**
   * A stop on the way.
   *
   * @param at where
   * @param work how long the crew works there, 0 or more
   * @param permit the sections that the crew has to itself meanwhile; empty where it needs none
   * @param release the switch that the crew throws by hand meanwhile, once its lock is released
   */
  public record Call(Named at, Duration work, List<Named> permit, Optional<Named> release) {

    public Call {
      permit = List.copyOf(permit);
    }
  }

  /** When a train begins. */
  public sealed interface Start {

    /** At a time of day, the first one that the session sees. */
    record At(Time time) implements Start {}

    /** Once another train has ended its run; for each of its runs, where this one begins again. */
    record After(Named train) implements Start {}
  }

  /** What becomes of a train at its end. */
  public enum Then {
    /** It stays where it is. */
    STAYS("stays", false, false),
    /** It returns to where it began, without a call. */
    GOES_BACK("goes back", true, false),
    /** Its crew takes it off the track. */
    IS_LIFTED("is lifted", false, true),
    /** It returns to where it began, and is taken off the track there. */
    GOES_BACK_AND_IS_LIFTED("goes back and is lifted", true, true);

    private final String words;
    private final boolean returns;
    private final boolean lifted;

    Then(String words, boolean returns, boolean lifted) {
      this.words = words;
      this.returns = returns;
      this.lifted = lifted;
    }

    /** As an owner writes it. */
    public String words() {
      return words;
    }

    /** Whether it returns to where it began. */
    public boolean returns() {
      return returns;
    }

    /** Whether it is off the track in the end. */
    public boolean isLifted() {
      return lifted;
    }

    static List<String> allWords() {
      return Stream.of(values()).map(Then::words).toList();
    }

    static Then of(String words) {
      return Stream.of(values()).filter(then -> then.words.equals(words)).findFirst().orElseThrow();
    }
  }

  /** Whether it stands at its beginning again, or off the track, once its run is over. */
  public boolean canBeginAgain() {
    return then.returns() || then.isLifted() || from.name().equals(to.name());
  }
}
