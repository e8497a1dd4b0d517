package tappet.layout;

import java.time.Duration;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import tappet.source.Fields;
import tappet.source.NearNames;
import tappet.source.Place;
import tappet.source.Problems;
import tappet.source.Value;

/** Reads what the owner knows of trains, and which switches guard which section. */
final class TrainsReader {

  private static final List<String> POSITIONS =
      Stream.of(Position.values()).map(Position::word).toList();

  private final Map<String, Place> sections;
  private final Map<String, Place> switches;
  private final Problems problems;

  /** A reader of one file; every section and switch it names must be declared. */
  TrainsReader(LayoutReader.Lists lists, Problems problems) {
    this.sections = ElementReader.declared(lists.sections());
    this.switches = ElementReader.declared(lists.switchesAndDerails());
    this.problems = problems;
  }

  Optional<Trains> trains(Value written) {
    return written.read(
        fields ->
            new Trains(
                stopWithin(fields),
                fields.optional("stopping distance", "1.2 m").metres(),
                positions(fields.optional("slow over", "{t1: reverse}")),
                fields.optional("car length", "0.16 m").metres()));
  }

  private static Optional<Duration> stopWithin(Fields fields) {
    Value written = fields.optional("stop within", "8 s");
    Optional<Duration> time = written.duration();
    time.filter(Duration::isZero)
        .ifPresent(none -> written.note("no train stops in no time", "write for example '8 s'"));
    return time;
  }

  Optional<Guard> guard(Value written) {
    return written.read(
        fields ->
            new Guard(
                ElementReader.named(fields.required("section", "mill-os"), "section", sections)
                    .orElse(""),
                positions(fields.required("switches", "{cr1: normal}")),
                fields.place()));
  }

  private Map<String, Position> positions(Value written) {
    Map<String, Position> positions = new LinkedHashMap<>();
    for (Value.Named one : written.named()) {
      if (isDeclared(one)) {
        one.value()
            .word(POSITIONS)
            .map(word -> Position.valueOf(word.value().toUpperCase(Locale.ROOT)))
            .ifPresent(position -> positions.put(one.key().value(), position));
      }
    }
    return Collections.unmodifiableMap(positions);
  }

  private boolean isDeclared(Value.Named one) {
    boolean declared = switches.containsKey(one.key().value());
    if (!declared) {
      problems.add(
          one.key().place(),
          "there is no switch %s".formatted(one.key().shown()),
          NearNames.meant(one.key().value(), switches.keySet(), "add it under 'switches'"));
    }
    return declared;
  }
}
