package tappet.layout;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.lcc.EventId;
import tappet.source.Fields;
import tappet.source.NearNames;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads what a signal is and how it is lit, besides where it stands and its events by aspect. */
final class SignalReader {

  private static final String EVENT = "0A.57.00.00.01.00.11.01";

  private final Map<String, Looks> looks;
  private final Set<String> signals;
  private final Wiring wiring;
  private final Problems problems;

  /**
   * @param looks the tables of looks by name
   * @param signals the names of all signals
   */
  SignalReader(Map<String, Looks> looks, Set<String> signals, Wiring wiring, Problems problems) {
    this.looks = looks;
    this.signals = signals;
    this.wiring = wiring;
    this.problems = problems;
  }

  /** The same signal with what else is written of it. */
  Signal complete(Signal signal, Fields fields) {
    Value lamps = fields.optional("lamps", "[{red: {lit: " + EVENT + ", dark: …}}]");
    Optional<Looks> table = table(fields.optional("looks", "two-head"));
    Optional<Lights> lights =
        table
            .filter(any -> lamps.present())
            .map(form -> new LampReader(signal.id(), wiring, problems).lights(lamps, form));
    checkBothOrNeither(signal, fields, lamps);
    Signal complete =
        new Signal(
            signal.id(),
            signal.name(),
            signal.at(),
            signal.into(),
            kind(fields.optional("kind", "automatic")),
            heads(fields.optional("heads", "[vertical, vertical]")),
            signal.shows(),
            lights,
            dark(signal, fields.optional("dark", EVENT)),
            repeats(signal, fields.optional("repeats", "t2e")),
            signal.place());
    checkHeads(complete, fields);
    return complete;
  }

  private static SignalKind kind(Value written) {
    return written
        .word(SignalKind.words())
        .map(word -> SignalKind.of(word.value()))
        .orElse(SignalKind.ABSOLUTE);
  }

  private static List<HeadKind> heads(Value written) {
    List<HeadKind> heads =
        written.items().stream()
            .flatMap(item -> item.called("a head", "vertical").word(HeadKind.words()).stream())
            .map(word -> HeadKind.of(word.value()))
            .toList();
    if (heads.size() > Looks.HEADS_MAX) {
      written.note(
          "a signal has %d heads here".formatted(heads.size()), "it has one, two or three");
    }
    return heads;
  }

  private Optional<Looks> table(Value written) {
    Optional<YamlNode.Text> name = written.text();
    name.filter(text -> !looks.containsKey(text.value()))
        .ifPresent(
            text ->
                written.note(
                    "there are no looks %s".formatted(text.shown()),
                    NearNames.meant(text.value(), looks.keySet(), "add them under 'looks'")));
    return name.map(text -> looks.get(text.value()));
  }

  /** A signal is told by aspect or by lamp; lamps need looks, and looks lamps. */
  private void checkBothOrNeither(Signal signal, Fields fields, Value lamps) {
    Value form = fields.optional("looks", "two-head");
    if (lamps.present() && fields.optional("shows", "").present()) {
      lamps.note(
          "signal '%s' has both 'shows' and 'lamps'".formatted(signal.id()),
          "write 'shows' where its board knows aspects, 'lamps' where it knows lamps");
    }
    if (lamps.present() != form.present()) {
      (lamps.present() ? lamps : form)
          .note(
              "signal '%s' has only one of 'lamps' and 'looks'".formatted(signal.id()),
              "'looks' says which of the lamps make up which aspect; write both");
    }
  }

  private Optional<EventId> dark(Signal signal, Value written) {
    Optional<EventId> event = wiring.event(written, "signal '%s' is dark".formatted(signal.id()));
    if (event.isPresent() && signal.shows().isEmpty()) {
      written.note(
          "signal '%s' has lamps, each with its own event for dark".formatted(signal.id()),
          "take this 'dark' out");
    }
    return event;
  }

  private Optional<String> repeats(Signal signal, Value written) {
    Optional<YamlNode.Text> name = written.text();
    name.filter(text -> !signals.contains(text.value()) || text.value().equals(signal.id()))
        .ifPresent(text -> noteRepeated(signal, text, written));
    return name.map(YamlNode.Text::value);
  }

  private void noteRepeated(Signal signal, YamlNode.Text repeated, Value written) {
    if (repeated.value().equals(signal.id())) {
      written.note(
          "signal '%s' cannot repeat itself".formatted(signal.id()),
          "name the signal whose aspect it repeats");
    } else {
      written.note(
          "there is no signal %s".formatted(repeated.shown()),
          NearNames.meant(repeated.value(), signals, "declare it first"));
    }
  }

  private static void checkHeads(Signal signal, Fields fields) {
    int inLooks = signal.lights().map(lights -> lights.looks().heads()).orElse(0);
    if (inLooks > 0 && !signal.heads().isEmpty() && signal.heads().size() != inLooks) {
      fields
          .optional("heads", "")
          .note(
              "signal '%s' has %s, and its looks are those of %s"
                  .formatted(
                      signal.id(),
                      HeadNames.count(signal.heads().size()),
                      HeadNames.count(inLooks)),
              "write one kind for each head, from the top down");
    }
  }
}
