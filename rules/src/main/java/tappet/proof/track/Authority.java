package tappet.proof.track;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import tappet.layout.SignalKind;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Timer;
import tappet.network.Variable;
import tappet.network.Words;

/**
 * Watches one way of a signal: which of its sections a train that has accepted the signal may still
 * come to.
 *
 * <p>A section is due from the moment the signal proceeds over the way until the train has come to
 * the section after it and left it, the sections in order; the last is due until the train stands
 * in it alone. An authority that is taken away is over when no train is where it could have seen
 * the signal, or when a release time has run through with the signal at Stop and no train inside,
 * but one that stands in the last section alone: it need not have been heard on its way there.
 */
final class Authority {

  final Way way;

  /** The signal proceeds, and the switches lie for this way. */
  final Variable given;

  private final Map<String, Variable> due = new LinkedHashMap<>();
  private final Map<String, Variable> came = new LinkedHashMap<>();

  private final Variable accepted;
  private final Variable over;

  /** A train that has seen the signal proceed may neither have passed it nor have stopped. */
  private final Variable comesToSignal;

  Authority(Way way, Plant plant, NetworkBuilder network) {
    this.way = way;
    String role = "authority " + way.id() + ": ";
    given =
        network.equation(
            role + "given",
            Words.fact("the signal proceeds over " + way.id(), "no proceed over " + way.id()),
            all(is(plant.proceeds(way.from().id())), lined(plant)));
    for (String section : way.sections()) {
      due.put(section, network.latch(role + "due in " + section, dueWords(section)));
      came.put(section, network.latch(role + "has come to " + section, Words.through()));
    }
    accepted = network.latch(role + "accepted", Words.through());
    over = network.equation(role + "is over", Words.through());
    comesToSignal =
        network.equation(
            role + "comes to its signal",
            Words.fact(
                "a train may come to " + way.from().id() + " on what it has shown",
                "no train comes to " + way.from().id() + " on what it has shown"));
  }

  /**
   * @param nobodyComes that no train is where it could have seen the signal
   */
  void define(Expression nobodyComes, Plant plant, NetworkBuilder network) {
    network.define(
        accepted, all(is(due(first())), plant.occupied(first())), any(is(given), not(due())));
    List<Expression> released = runThrough(plant.releaseTimes(way), network);
    Variable timeRun = timeRun(released, network);
    List<Expression> stopped = new ArrayList<>(released);
    stopped.addAll(runThrough(plant.stopTimes(way), network));
    network.define(comesToSignal, all(is(seen(stopped, network)), not(nobodyComes)));
    Expression nobodyHasIt = any(not(accepted), nobodyInside(plant));
    network.define(
        over,
        all(
            not(given),
            any(
                all(is(timeRun), any(not(accepted), nobodyBeforeTheEnd(plant))),
                all(nobodyComes, isTimed() ? not(accepted) : nobodyHasIt))));
    for (int index = 0; index < way.sections().size(); index++) {
      define(index, plant, network);
    }
  }

  /** A train with this authority may still come to a section, or runs over it. */
  Variable due(String section) {
    return due.get(section);
  }

  /** A train with this authority may still come to any of its sections. */
  Expression due() {
    return any(due.values().stream().<Expression>map(Expression::is).toList());
  }

  /** The signal proceeds over the way, or a train may still come on what it has shown. */
  Expression reaches(String section) {
    return any(is(given), all(is(due(section)), not(over)));
  }

  /** The signal proceeds over the way, or a train may come that does not stand in a section yet. */
  Expression awaitedIn(String section, Plant plant) {
    Expression come = any(is(came.get(section)), plant.occupied(section));
    return any(is(given), all(is(due(section)), not(over), not(come)));
  }

  /** The signal proceeds over the way, or a train that has seen it may come into a section. */
  Expression comesInto(String section, Plant plant) {
    List<Expression> where = new ArrayList<>();
    where.add(is(comesToSignal));
    way.sections().stream()
        .takeWhile(before -> !before.equals(section))
        .forEach(before -> where.add(not(plant.clear(before))));
    return any(is(given), all(is(due(section)), not(over), any(where)));
  }

  private Words dueWords(String section) {
    return Words.fact(
        "a train may have authority from " + way.from().id() + " over " + section,
        "no train has authority from " + way.from().id() + " over " + section);
  }

  /** Nobody lines an automatic signal, and no time is run when it goes to Stop. */
  private boolean isTimed() {
    return way.from().kind() != SignalKind.AUTOMATIC;
  }

  private Expression lined(Plant plant) {
    return all(way.legs().stream().map(leg -> plant.lies(leg.switchId(), leg.position())).toList());
  }

  private Expression nobodyInside(Plant plant) {
    return all(
        way.sections().stream()
            .<Expression>map(section -> any(not(due(section)), plant.clear(section)))
            .toList());
  }

  private Expression nobodyBeforeTheEnd(Plant plant) {
    List<String> before = way.sections().subList(0, way.sections().size() - 1);
    return all(
        before.stream()
            .<Expression>map(section -> any(not(due(section)), plant.clear(section)))
            .toList());
  }

  /** A release time has run through since the signal last proceeded over the way. */
  private Variable timeRun(List<Expression> runs, NetworkBuilder network) {
    Variable run = network.latch("authority " + way.id() + ": time has run", Words.through());
    network.define(run, any(runs), is(given));
    return run;
  }

  /**
   * From when the signal proceeds over the way until a time has run through in which every train
   * that saw it has passed it or stopped before it.
   */
  private Variable seen(List<Expression> runs, NetworkBuilder network) {
    Variable seen = network.latch("authority " + way.id() + ": seen", Words.through());
    network.define(seen, is(given), all(not(given), any(runs)));
    return seen;
  }

  /** By time: that it runs out, and the signal has not proceeded over the way while it ran. */
  private List<Expression> runThrough(List<Timer> timers, NetworkBuilder network) {
    String role = "authority " + way.id() + ": ";
    List<Expression> runs = new ArrayList<>();
    for (Timer timer : timers) {
      Variable whole = network.latch(role + "withdrawn through " + timer.hasRun(), Words.through());
      network.define(whole, not(timer.running()), all(is(given), is(timer.running())));
      runs.add(all(is(timer.runsOut()), is(whole)));
    }
    return runs;
  }

  private void define(int index, Plant plant, NetworkBuilder network) {
    String section = way.sections().get(index);
    boolean last = index == way.sections().size() - 1;
    List<Expression> passed = new ArrayList<>();
    passed.add(not(given));
    passed.add(is(came.get(last ? section : way.sections().get(index + 1))));
    if (!last) {
      passed.add(plant.clear(section));
    }
    List<Expression> comes = new ArrayList<>();
    comes.add(plant.occupied(section));
    if (index > 0) {
      String before = way.sections().get(index - 1);
      passed.add(not(due(before)));
      comes.add(is(came.get(before)));
    }
    network.define(due(section), is(given), any(is(over), all(passed)));
    network.define(came.get(section), all(comes), is(given));
  }

  private String first() {
    return way.sections().get(0);
  }
}
