package tappet.proof.track;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import tappet.layout.Layout;
import tappet.layout.Signal;
import tappet.network.Expression;

/**
 * Whether a train is warned of a signal at Stop while it can still stop before it: by the last
 * signal that stands at least the stopping distance before (49 CFR 236.24 and 236.741; interlocking
 * sheet, C.2). Nearer signals may repeat the warning, but they come too late to give it.
 */
final class Warnings {

  /** An aspect that prepares for a stop at the second signal, though the next one may be clear. */
  private static final String OF_THE_SECOND_SIGNAL = "advance-approach";

  /** No progression in the interlocking sheet, C.2, tells of a signal as far ahead as that. */
  private static final int WAYS_MAX = 4;

  /**
   * A train may come to a signal at Stop without having been warned in time.
   *
   * @param of the signal at Stop
   * @param words how it comes to it
   * @param when where it is so
   */
  record Unwarned(Signal of, String words, Expression when) {}

  /**
   * Ways that a train runs one after the other, up to a signal.
   *
   * @param metres how long they are together
   */
  private record Run(List<Way> ways, double metres) {

    Signal start() {
      return ways.get(0).from();
    }

    Signal end() {
      return ways.get(ways.size() - 1).next().orElseThrow();
    }

    Run after(Way way, double length) {
      return new Run(Stream.concat(Stream.of(way), ways.stream()).toList(), length + metres);
    }

    String id() {
      return ways.stream().map(Way::id).collect(Collectors.joining("; "));
    }
  }

  private final Layout layout;
  private final Ways ways;
  private final Plant plant;
  private final double stoppingMetres;
  private final List<Unwarned> found = new ArrayList<>();

  /**
   * @param stoppingMetres in how many metres a train stops, above 0
   */
  Warnings(Layout layout, Ways ways, Plant plant, double stoppingMetres) {
    if (!(stoppingMetres > 0)) {
      throw new IllegalArgumentException(
          "stopping distance " + stoppingMetres + " m, expected above 0");
    }
    this.layout = layout;
    this.ways = ways;
    this.plant = plant;
    this.stoppingMetres = stoppingMetres;
  }

  /**
   * Where signals stand so near that a warning may come too late; whether it does is to be asked.
   */
  List<Unwarned> tooLate() {
    ways.all().stream()
        .filter(way -> way.next().isPresent())
        .map(way -> new Run(List.of(way), metres(way)))
        .filter(run -> run.metres() < stoppingMetres)
        .forEach(this::lookBack);
    return List.copyOf(found);
  }

  /** Looks for the last signals that stand far enough back from the end of a run. */
  private void lookBack(Run tooShort) {
    List<Way> before =
        ways.all().stream()
            .filter(way -> way.next().filter(tooShort.start()::equals).isPresent())
            .toList();
    boolean goesRound = before.stream().anyMatch(tooShort.ways()::contains);
    if (before.isEmpty() || goesRound || tooShort.ways().size() == WAYS_MAX) {
      note(tooShort, tooShort, "no signal that could warn of it", Expression.always());
      return;
    }
    for (Way way : before) {
      Run run = tooShort.after(way, metres(way));
      if (run.metres() < stoppingMetres) {
        lookBack(run);
      } else {
        Signal last = run.start();
        note(
            tooShort,
            run,
            "signal " + last.id() + ", which does not warn of it",
            doesNotWarn(last));
      }
    }
  }

  /**
   * @param tooShort from where a warning comes too late
   * @param run what a train runs over
   */
  private void note(Run tooShort, Run run, String how, Expression unwarned) {
    String words =
        String.format(
            Locale.ROOT,
            "signal %s may be at Stop %.2f m beyond signal %s, and before that there is %s (%s)",
            run.end().id(),
            tooShort.metres(),
            tooShort.start().id(),
            how,
            run.id());
    List<Expression> when = new ArrayList<>();
    run.ways().forEach(way -> when.add(is(plant.named("authority " + way.id() + ": given"))));
    when.add(not(plant.proceeds(run.end().id())));
    when.add(unwarned);
    found.add(new Unwarned(run.end(), words, all(when)));
  }

  private Expression doesNotWarn(Signal signal) {
    return not(
        any(
            plant.aspects(signal).stream()
                .filter(Warnings::warns)
                .<Expression>map(aspect -> is(plant.shows(signal.id(), aspect).orElseThrow()))
                .toList()));
  }

  /** Whether a train slows down by it before the next signal; an unknown aspect does not count. */
  private static boolean warns(String aspect) {
    return aspect.equals(OF_THE_SECOND_SIGNAL)
        || AspectMeaning.of(aspect)
            .filter(meaning -> meaning.beyond().filter(Speed.LINE::equals).isEmpty())
            .isPresent();
  }

  /** A signal stands where two sections meet, so a way runs through whole sections. */
  private double metres(Way way) {
    return way.sections().stream()
        .mapToDouble(section -> layout.sections().get(section).lengthMetres())
        .sum();
  }
}
