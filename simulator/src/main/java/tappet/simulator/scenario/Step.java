package tappet.simulator.scenario;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import tappet.sentence.Command;
import tappet.sentence.Condition;
import tappet.sentence.Happening;
import tappet.source.Place;

/** One step of a scenario. A sentence is kept as it was written, for people to read. */
public sealed interface Step {

  /** Where it stands. */
  Place place();

  /** As people read it. */
  String words();

  /**
   * {@code tell: line t2e to t4e}: asks the interlocking, or an engineer.
   *
   * @param refused some words of the answer, where it is to be refused
   */
  record Tell(String sentence, Command command, Optional<String> refused, Place place)
      implements Step {
    @Override
    public String words() {
      return "tell: " + sentence;
    }
  }

  /**
   * {@code happens: crew throws q1 reverse} or {@code fault: motor of t1 sticks}.
   *
   * @param refused some words of what keeps it from happening, where something is to do so
   */
  record Happens(
      String key, String sentence, Happening happening, Optional<String> refused, Place place)
      implements Step {
    @Override
    public String words() {
      return key + ": " + sentence;
    }
  }

  /** {@code pass: 8 s}: lets time go by. */
  record Pass(String written, Duration time, Place place) implements Step {
    @Override
    public String words() {
      return "pass: " + written;
    }
  }

  /** {@code expect: signal t2e is stop}. */
  record Expect(String sentence, Condition condition, When when, Place place) implements Step {
    @Override
    public String words() {
      return "expect: " + sentence + when.words();
    }
  }

  /** When a condition is expected to hold. */
  sealed interface When {

    /** As people read it, behind the condition. */
    String words();

    /** At this moment. */
    record Now() implements When {
      @Override
      public String words() {
        return "";
      }
    }

    /** At some moment from now on, at the latest after this time. */
    record Within(String written, Duration time) implements When {
      @Override
      public String words() {
        return ", within: " + written;
      }
    }

    /** At every moment from now on, for this time. */
    record Always(String written, Duration time) implements When {
      @Override
      public String words() {
        return ", always: " + written;
      }
    }

    /** At no moment from now on, for this time. */
    record Never(String written, Duration time) implements When {
      @Override
      public String words() {
        return ", never: " + written;
      }
    }

    /**
     * At every moment from now on, until something else is so.
     *
     * @param atMost when that must have come about
     */
    record Until(String sentence, Condition end, Duration atMost) implements When {

      /** How long an end may take where nothing is said. */
      public static final Duration AT_MOST_USUAL = Duration.ofMinutes(10);

      @Override
      public String words() {
        return ", until: " + sentence;
      }
    }
  }

  /**
   * {@code why: t4e} with {@code says: 'section mid-west is occupied'}.
   *
   * @param name a device, route or line
   * @param says some words of the explanation
   */
  record Why(String name, String says, Place place) implements Step {
    @Override
    public String words() {
      return "why: " + name;
    }
  }

  /** {@code repeat: 3}: these steps so many times. */
  record Repeat(int times, List<Step> steps, Place place) implements Step {
    public Repeat {
      steps = List.copyOf(steps);
    }

    @Override
    public String words() {
      return "repeat: " + times;
    }
  }

  /**
   * {@code random: {seed: 7, steps: 50, of: […]}}: so many steps, each one of these by chance. What
   * is told by chance may be refused; the same seed always makes the same choice.
   */
  record AtRandom(long seed, int count, List<Step> of, Place place) implements Step {
    public AtRandom {
      of = List.copyOf(of);
    }

    @Override
    public String words() {
      return "random: %d steps, seed %d".formatted(count, seed);
    }
  }
}
