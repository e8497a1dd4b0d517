package tappet.rules;

import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import tappet.layout.Layout;
import tappet.layout.Signal;
import tappet.source.NearNames;
import tappet.source.Place;
import tappet.source.Problems;

/** Holds rows, ladders and signals against each other, once each has been read by itself. */
final class TableCheck {

  private final Layout layout;
  private final ControlTable table;
  private final Problems problems;
  private final Map<String, Set<String>> aspects;

  TableCheck(Layout layout, ControlTable table, Problems problems) {
    this.layout = layout;
    this.table = table;
    this.problems = problems;
    this.aspects = AspectReach.aspectsOf(table);
  }

  void check() {
    checkRungsAreGiven();
    checkBottom();
    table.routes().values().forEach(this::checkLadderIsWhole);
    aspects.forEach(this::checkEvents);
    layout.signals().values().forEach(this::checkRepeater);
    new LadderOrderCheck(layout, table, problems).check();
  }

  /** A rung beyond an aspect that no ladder gives is a slip of the pen. */
  private void checkRungsAreGiven() {
    Set<String> given = new TreeSet<>();
    table.ladders().values().forEach(ladder -> given.addAll(ladder.beyond().values()));
    table.routes().values().forEach(row -> row.callOn().ifPresent(given::add));
    given.add(Signal.STOP);
    for (AspectLadder ladder : table.ladders().values()) {
      for (String next : ladder.beyond().keySet()) {
        if (!given.contains(next)) {
          problems.add(
              ladder.place(),
              "the aspects of '%s' speak of '%s', which no signal ever shows"
                  .formatted(ladder.speed(), next),
              NearNames.meant(next, given, "take the line out"));
        }
      }
    }
  }

  private void checkBottom() {
    if (AspectReach.signalsAhead(table.ladders().values()).isEmpty()) {
      AspectLadder first = table.ladders().values().iterator().next();
      problems.add(
          first.place(),
          "the aspects do not bottom out at stop: one of them depends on signals without end",
          "let the same aspect be shown beyond the better ones, as in 'beyond clear: clear'");
    }
  }

  private void checkLadderIsWhole(RouteRow row) {
    AspectLadder ladder = table.ladderOf(row);
    for (String next : AspectReach.beyond(row, aspects)) {
      if (ladder.aspectBeyond(next).isEmpty()) {
        problems.add(
            ladder.place(),
            "the aspects of '%s' do not say what is shown beyond %s, which %s can show"
                .formatted(ladder.speed(), next, row.to()),
            "add for example 'beyond %s: %s'".formatted(next, ladder.lowest()));
      }
    }
  }

  private void checkEvents(String signal, Set<String> shown) {
    checkEvents(layout.signals().get(signal), shown, table.routesFrom(signal).get(0).place());
  }

  private void checkRepeater(Signal signal) {
    signal
        .repeats()
        .ifPresent(
            repeated ->
                checkEvents(signal, aspects.getOrDefault(repeated, Set.of()), signal.place()));
  }

  private void checkEvents(Signal signal, Set<String> shown, Place place) {
    for (String aspect : shown) {
      if (!signal.aspects().contains(aspect)) {
        problems.add(
            place,
            "signal %s can come to show %s, for which the layout has no %s"
                .formatted(signal.id(), aspect, signal.lights().isPresent() ? "lights" : "event"),
            lacking(signal, aspect));
      }
    }
  }

  private static String lacking(Signal signal, String aspect) {
    return signal
        .lights()
        .map(
            lights ->
                "add '%s: [<a light for each head>]' to looks '%s' in the layout file"
                    .formatted(aspect, lights.looks().id()))
        .orElseGet(
            () ->
                "add '%s: <event id>' under shows of %s in the layout file"
                    .formatted(aspect, signal.id()));
  }
}
