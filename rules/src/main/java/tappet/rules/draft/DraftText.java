package tappet.rules.draft;

import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.StringJoiner;
import java.util.stream.Collectors;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.layout.TrackPlan;
import tappet.sentence.Command.Heading;

/** Writes a draft as an owner would write a rule file, with a comment wherever it chose. */
final class DraftText {

  private static final String HEADER =
      """
      # The rules of %s: its control table, drafted from the track plan alone.
      #
      # Read it through and change what your railroad does otherwise; 'tappet check' tells every
      # mistake. What the track plan cannot tell, and what this draft therefore leaves to you:
      #
      #   clear      the sections on the way, in the order of travel. Where a vehicle can stand so near
      #              a switch or a diamond that it fouls the way, add the section it stands in
      #   flank      switches beside the way that turn others away from it. They are asked for only
      #              where that hinders no other route that could run at the same time
      #   not with   routes that share no section and yet would bring two trains face to face
      #   automatic  a signal that the track plan calls so: it follows the traffic of its line, under
      #              'traffic', where routes lead into track between control points from both ends
      #   release    the way from the signal before, run at 0.3 m/s, and 5 s to stop. Measure it
      #   approach   where a train may have seen the signal: back to the signal before it, or to the end
      #              of track. While all of that is clear, a cancelled route is released at once
      #   speed      main where every switch lies normal, or else diverging
      """;

  private static final String TIMES =
      """

      rules: 1

      times:
        loss of shunt: 2 s      # a section counts as vacant when it has been clear this long
        start: %s             # nothing is lined this soon after a start; as long as the longest release
      """;

  private static final String TRAFFIC =
      """

      # Between control points trains run one way at a time. The first route that is lined into a line
      # sets its traffic; it stays set until the line is empty and no route into it is left.
      traffic:
      """;

  private static final String ASPECTS =
      """

      # What a signal shows, by the speed of the route and by what the next signal shows. Where track
      # ends, and where the next signal is at stop, it is the line 'beyond stop'.
      """;

  private static final Duration RELEASE_MIN = Duration.ofSeconds(10);

  private final TrackPlan plan;
  private final Ladders ladders;
  private final Flanks flanks;
  private final Lines lines;
  private final StringBuilder text = new StringBuilder();

  DraftText(TrackPlan plan, Ladders ladders, Flanks flanks, Lines lines) {
    this.plan = plan;
    this.ladders = ladders;
    this.flanks = flanks;
    this.lines = lines;
  }

  /** The whole file. */
  String of(Map<Signal, List<DraftedRoute>> routes) {
    Map<Signal, Sighting> sightings = new LinkedHashMap<>();
    routes.keySet().forEach(signal -> sightings.put(signal, Sighting.of(signal, plan)));
    text.append(HEADER.formatted(onOneLine(plan.layout().name())));
    text.append(TIMES.formatted(seconds(longestRelease(routes, sightings))));
    appendRoutes(routes, sightings);
    appendTraffic();
    appendLadders();
    text.append(new DraftedDevices(plan, longestRelease(routes, sightings)).text());
    return text.toString();
  }

  private Duration longestRelease(
      Map<Signal, List<DraftedRoute>> routes, Map<Signal, Sighting> sightings) {
    return routes.entrySet().stream()
        .filter(from -> from.getValue().stream().anyMatch(this::isSignalled))
        .map(from -> release(sightings.get(from.getKey())))
        .max(Duration::compareTo)
        .orElse(RELEASE_MIN);
  }

  private void appendRoutes(
      Map<Signal, List<DraftedRoute>> routes, Map<Signal, Sighting> sightings) {
    boolean any = routes.values().stream().flatMap(List::stream).anyMatch(this::isSignalled);
    text.append(any ? "\nroutes:\n" : "\nroutes: []\n");
    String gap = "";
    for (Map.Entry<Signal, List<DraftedRoute>> from : routes.entrySet()) {
      text.append(gap);
      appendSignal(from.getKey(), sightings.get(from.getKey()), from.getValue());
      gap = "\n";
    }
  }

  private boolean isSignalled(DraftedRoute route) {
    return ladders.speedOf(route).isPresent();
  }

  private void appendSignal(Signal signal, Sighting sighting, List<DraftedRoute> routes) {
    comment("%s, at %s into %s".formatted(called(signal), signal.at(), signal.into()));
    if (routes.isEmpty()) {
      comment("No way leads from here to a signal or to an end of track.");
    }
    if (sighting.sections().isEmpty()) {
      comment("The plan shows no track before it: the release time is a guess, and always runs.");
    }
    for (DraftedRoute route : routes) {
      ladders
          .speedOf(route)
          .ifPresentOrElse(
              speed -> appendRoute(route, speed, sighting),
              () -> appendWithoutAspect(route, sighting));
    }
  }

  private void appendRoute(DraftedRoute route, String speed, Sighting sighting) {
    appendReasons(route, sighting);
    text.append("  - ").append(row(route, speed, sighting)).append('\n');
  }

  private void appendWithoutAspect(DraftedRoute route, Sighting sighting) {
    String lowest = ladders.lowest(route);
    comment(
        "Left out: %s has no event for %s. With one it could read:"
            .formatted(route.path().from(), lowest));
    text.append("  # - ").append(row(route, Ladders.base(route), sighting)).append('\n');
  }

  private void appendReasons(DraftedRoute route, Sighting sighting) {
    String to = route.path().to();
    if (route.end() == DraftedRoute.End.UNSIGNALLED_LIMITS) {
      comment("Ends at joint %s: no signal governs this way what lies beyond it.".formatted(to));
    }
    if (route.end() == DraftedRoute.End.SIGNALS_FOR_THE_OTHER_DIRECTION) {
      comment("Ends at joint %s: from there on signals face the other way only.".formatted(to));
      comment("Take the row out if trains run only toward you here.");
    }
    flanks.of(route).forEach((id, position) -> comment(turnsAway(id, position)));
    for (Flanks.LeftOut leftOut : flanks.leftOutOf(route)) {
      comment(
          "Switch %s could turn others away, but %s."
              .formatted(leftOut.switchId(), leftOut.because()));
    }
    if (!lines.notWith(route).isEmpty()) {
      comment("Trains would come to stand face to face.");
    }
    lines
        .callerOf(route)
        .ifPresent(
            line -> comment("Nobody lines it: it follows the traffic of %s.".formatted(line.id())));
    if (lines.callerOf(route).isEmpty() && runsIntoItsApproach(route, sighting)) {
      comment("Its approach lies on its own way, round a loop: the release time always runs.");
    }
  }

  private String turnsAway(String id, Position position) {
    String turns = "Switch %s %s turns others away".formatted(id, position.word());
    return turns
        + flanks
            .thrownByAnother(id)
            .map("; %s, and the route waits until it lies so."::formatted)
            .orElse(".");
  }

  private static boolean runsIntoItsApproach(DraftedRoute route, Sighting sighting) {
    return route.path().sections().stream().anyMatch(sighting.sections()::contains);
  }

  private String row(DraftedRoute route, String speed, Sighting sighting) {
    StringJoiner row = new StringJoiner(", ", "{", "}");
    row.add("from: " + route.path().from()).add("to: " + route.path().to());
    if (route.isNamed()) {
      row.add("name: " + route.id());
    }
    positions("switches", route.path().switches()).ifPresent(row::add);
    row.add("clear: " + list(route.path().sections()));
    positions("flank", flanks.of(route)).ifPresent(row::add);
    row.add("speed: " + speed);
    if (lines.callerOf(route).isPresent()) {
      return row.add("automatic: yes").toString();
    }
    row.add("release: " + seconds(release(sighting)));
    if (!sighting.sections().isEmpty() && !runsIntoItsApproach(route, sighting)) {
      row.add("approach: " + list(sighting.sections()));
    }
    List<String> met = lines.notWith(route).stream().map(DraftedRoute::id).toList();
    if (!met.isEmpty()) {
      row.add("not with: " + list(met));
    }
    return row.toString();
  }

  private static Optional<String> positions(String key, Map<String, Position> positions) {
    return positions.isEmpty()
        ? Optional.empty()
        : Optional.of(
            positions.entrySet().stream()
                .map(toe -> toe.getKey() + ": " + toe.getValue().word())
                .collect(Collectors.joining(", ", key + ": {", "}")));
  }

  private void appendTraffic() {
    if (lines.all().isEmpty()) {
      return;
    }
    text.append(TRAFFIC);
    for (Lines.Line line : lines.all()) {
      text.append("  - line: ").append(line.id()).append('\n');
      text.append("    sections: ").append(list(line.sections())).append('\n');
      for (Heading heading : Heading.values()) {
        text.append("    %sward: ".formatted(heading.word()))
            .append(list(line.signals(heading)))
            .append('\n');
      }
    }
  }

  private void appendLadders() {
    text.append(ASPECTS);
    Map<String, Map<String, String>> used = ladders.used();
    text.append(used.isEmpty() ? "aspects: {}\n" : "aspects:\n");
    used.forEach(
        (speed, ladder) -> {
          text.append("  ").append(speed).append(":\n");
          ladder.forEach(
              (next, aspect) ->
                  text.append("    beyond ").append(next).append(": ").append(aspect).append('\n'));
        });
  }

  private static Duration release(Sighting sighting) {
    return sighting.sections().isEmpty() ? RELEASE_MIN : sighting.release();
  }

  private static String seconds(Duration time) {
    return String.format(Locale.ROOT, "%d s", time.toSeconds());
  }

  private static String list(List<String> names) {
    return "[" + String.join(", ", names) + "]";
  }

  private static String called(Signal signal) {
    return signal.name().equals(signal.id())
        ? signal.id()
        : signal.id() + " (" + onOneLine(signal.name()) + ")";
  }

  private void comment(String line) {
    text.append("  # ").append(line).append('\n');
  }

  /** An owner's name may be written over several lines; a comment ends with its line. */
  private static String onOneLine(String name) {
    return name.replaceAll("[\\s\\p{Cntrl}]+", " ").strip();
  }
}
