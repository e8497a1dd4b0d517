package tappet.layout;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import tappet.lcc.EventId;
import tappet.source.Fields;
import tappet.source.Problems;
import tappet.source.Value;

/** Reads the lamps of one signal, head by head from the top down. */
final class LampReader {

  private static final String EVENT = "0A.57.00.00.01.00.11.01";
  private static final String LAMP = "{lit: " + EVENT + ", dark: …}";
  private static final String HEAD = "{red: " + LAMP + ", green: …}";

  private final String signal;
  private final Wiring wiring;
  private final Problems problems;

  LampReader(String signal, Wiring wiring, Problems problems) {
    this.signal = signal;
    this.wiring = wiring;
    this.problems = problems;
  }

  /** The lamps of the signal; holds them against what its looks ask for. */
  Lights lights(Value written, Looks looks) {
    List<Value> heads = written.items();
    List<SignalLamp> lamps = new ArrayList<>();
    if (!looks.isEven()) {
      return new Lights(looks, List.of());
    }
    if (heads.size() != looks.heads()) {
      written.note(
          "signal '%s' has lamps in %s, and its looks are those of %s"
              .formatted(signal, HeadNames.count(heads.size()), HeadNames.count(looks.heads())),
          "write one item for each head, from the top down: [%s]".formatted(HEAD));
      return new Lights(looks, List.of());
    }
    int before = problems.sorted().size();
    for (int head = 0; head < heads.size(); head++) {
      lamps.addAll(head(heads.get(head), head, heads.size()));
    }
    Lights lights = new Lights(looks, List.copyOf(lamps));
    if (problems.sorted().size() == before) {
      checkAll(lights, written);
    }
    return lights;
  }

  private List<SignalLamp> head(Value written, int head, int heads) {
    return written
        .called("the head", HEAD)
        .read(
            fields -> {
              Optional<LampProving> ofHead = proving(fields, HeadNames.lampOfHead(head, heads));
              List<SignalLamp> lamps = new ArrayList<>();
              for (Colour colour : Colour.values()) {
                lamp(fields.optional(colour.word(), LAMP), head, heads, colour, ofHead)
                    .ifPresent(lamps::add);
              }
              return lamps;
            })
        .orElse(List.of());
  }

  private Optional<SignalLamp> lamp(
      Value written, int head, int heads, Colour colour, Optional<LampProving> ofHead) {
    if (!written.present()) {
      return Optional.empty();
    }
    String id = HeadNames.lamp(head, heads, colour);
    return written.read(
        fields ->
            new SignalLamp(
                head,
                colour,
                id,
                event(fields.required("lit", EVENT), id, "lit").orElse(Wiring.NONE),
                event(fields.required("dark", EVENT), id, "dark").orElse(Wiring.NONE),
                event(fields.optional("flashing", EVENT), id, "flashing"),
                proving(fields, id).or(() -> ofHead)));
  }

  /** Failed and works belong together: what has only ever failed could never be mended. */
  private Optional<LampProving> proving(Fields fields, String lamp) {
    Value failed = fields.optional("failed", EVENT);
    Value works = fields.optional("works", EVENT);
    if (failed.present() != works.present()) {
      (failed.present() ? failed : works)
          .note(
              "lamp %s of signal '%s' has only one of 'failed' and 'works'".formatted(lamp, signal),
              "write both, or neither where no board tells");
    }
    return event(failed, lamp, "failed")
        .flatMap(down -> event(works, lamp, "works").map(up -> new LampProving(lamp, down, up)));
  }

  private Optional<EventId> event(Value written, String lamp, String state) {
    return wiring.event(written, "lamp %s of signal '%s': %s".formatted(lamp, signal, state));
  }

  private void checkAll(Lights lights, Value written) {
    lights
        .looks()
        .aspects()
        .forEach(
            (aspect, looks) -> {
              for (int head = 0; head < looks.size(); head++) {
                check(lights, written, aspect, head, looks.get(head));
              }
            });
  }

  private void check(Lights lights, Value written, String aspect, int head, Light light) {
    light
        .colour()
        .filter(colour -> lights.lamp(head, colour).isEmpty())
        .ifPresent(
            colour ->
                problems.add(
                    written.place(),
                    "signal '%s' has no %s lamp, which '%s' asks for"
                        .formatted(
                            signal,
                            HeadNames.of(head, lights.looks().heads()) + colour.word(),
                            aspect),
                    "add it: '%s: %s'".formatted(colour.word(), LAMP)));
  }
}
