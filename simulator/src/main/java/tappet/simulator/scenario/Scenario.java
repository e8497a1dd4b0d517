package tappet.simulator.scenario;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.sentence.Condition;
import tappet.source.Place;

/**
 * What happens on the railroad, and what is to come of it.
 *
 * @param name the owner's name for it
 * @param about what it is about, for people
 * @param begins when its first step comes
 * @param clock the layout's fast clock, which the daemon generates; empty where it has none
 * @param trains the trains on the track from the beginning
 * @param given what has befallen the railway before anything is switched on
 * @param never what must not be so at any moment from the first step on
 * @param mishaps what goes wrong on the track, each by some of its words; nothing else may
 * @param steps what happens, and what is expected, in this order
 * @param place where it stands
 */
public record Scenario(
    String name,
    Optional<String> about,
    Beginning begins,
    Optional<Clock> clock,
    List<TrainReader.Placed> trains,
    List<Step.Happens> given,
    List<Forbidden> never,
    List<String> mishaps,
    List<Step> steps,
    Place place) {

  public Scenario {
    trains = List.copyOf(trains);
    given = List.copyOf(given);
    never = List.copyOf(never);
    mishaps = List.copyOf(mishaps);
    steps = List.copyOf(steps);
  }

  /** When the first step comes. */
  public enum Beginning {
    /** Once every device has answered and the time since the start has run. */
    READY("ready"),
    /** At the moment at which daemon and boards are switched on. */
    SWITCHED_ON("switched on");

    private final String word;

    Beginning(String word) {
      this.word = word;
    }

    /** As an owner writes it. */
    public String word() {
      return word;
    }

    /** The beginning with that word. */
    static Optional<Beginning> of(String word) {
      return Stream.of(values()).filter(beginning -> beginning.word.equals(word)).findFirst();
    }
  }

  /**
   * The layout's fast clock.
   *
   * @param rate how fast it runs
   * @param time what it shows when the daemon is switched on
   */
  public record Clock(Rate rate, Time time) {}

  /** A condition that must not come about, as it was written and what it means. */
  public record Forbidden(String sentence, Condition condition, Place place) {}
}
