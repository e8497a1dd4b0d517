package tappet.interlocking;

import java.util.ArrayList;
import java.util.List;

/**
 * Signals one behind the other on a straight track, each with three heads whose lamps are switched
 * and proved one by one: {@code a1} into {@code s1}, {@code a2} into {@code s2} and so on, with the
 * aspects of a file in config/aspects.
 *
 * <pre>
 *   s0 ─ a1 ─ s1 ─ a2 ─ s2 ─ … ─ end
 * </pre>
 */
final class SignalRow {

  private static final List<String> COLOURS = List.of("red", "yellow", "green", "lunar");

  private final String aspects;
  private final String looks;
  private int events;

  private SignalRow(String aspects, String looks) {
    this.aspects = aspects;
    this.looks = looks;
  }

  /** With the aspects of a file as an owner would copy them. */
  static SignalRow with(String file) {
    String text = Desk.config("aspects/" + file + ".yaml");
    int layoutPart = text.indexOf("restriction:");
    return new SignalRow(
        text.substring(text.indexOf("aspects:\n"), layoutPart), text.substring(layoutPart));
  }

  /** A row of signals whose routes have these speeds, all lined but the last. */
  Desk lined(String... speeds) {
    Desk desk = ready(speeds);
    for (int signal = speeds.length - 1; signal >= 1; signal--) {
      desk.order("line a%d to a%d".formatted(signal, signal + 1));
    }
    return desk;
  }

  private Desk ready(String... speeds) {
    return Desk.ready(Desk.Railroad.read(layout(speeds.length), rules(List.of(speeds))));
  }

  /** The same in a circle, all lined: the last signal's route ends at the first signal. */
  Desk circle(String... speeds) {
    int count = speeds.length;
    String layout =
        layout(count)
            .replace("j0: [0, 0], ", "")
            .replace("[j0, j1]", "[j%d, j1]".formatted(count + 1))
            .replaceAll("  s0: .*\n", "")
            .replace("j%d: [%d, 0]".formatted(count + 1, 2 * count + 2), "unused: [0, 0]")
            .replace(", unused: [0, 0]", "")
            .replace("[j%d, j%d]".formatted(count, count + 1), "[j%d, j1]".formatted(count));
    String rules = rules(List.of(speeds)).replace("to: j" + (count + 1), "to: a1");
    Desk desk = Desk.ready(Desk.Railroad.read(layout, rules));
    for (int signal = 1; signal <= count; signal++) {
      desk.order("line a%d to a%d".formatted(signal, signal % count + 1));
    }
    return desk;
  }

  String layout(int signals) {
    List<String> joints = new ArrayList<>();
    StringBuilder sections = new StringBuilder();
    StringBuilder masts = new StringBuilder();
    for (int at = 0; at <= signals + 1; at++) {
      joints.add("j%d: [%d, 0]".formatted(at, 2 * at));
    }
    for (int at = 0; at <= signals; at++) {
      sections.append(
          "  s%d: {between: [j%d, j%d], length: 1 m, occupied: %s, clear: %s}\n"
              .formatted(at, at, at + 1, event(), event()));
    }
    for (int at = 1; at <= signals; at++) {
      masts.append(
          "  a%d: {at: j%d, into: s%d, heads: [vertical, vertical, vertical], looks: three-head, lamps: [%s, %s, %s]}\n"
              .formatted(at, at, at, head(), head(), head()));
    }
    return "layout: 1\nname: A row of signals\njoints: {%s}\nsections:\n%ssignals:\n%s%s"
        .formatted(String.join(", ", joints), sections, masts, looks);
  }

  private String head() {
    List<String> lamps =
        COLOURS.stream()
            .map(
                colour ->
                    "%s: {lit: %s, dark: %s, flashing: %s, failed: %s, works: %s}"
                        .formatted(colour, event(), event(), event(), event(), event()))
            .toList();
    return "{" + String.join(", ", lamps) + "}";
  }

  private String event() {
    events++;
    return "0A.00.00.00.00.01.%02X.%02X".formatted(events / 256, events % 256);
  }

  String rules(List<String> speeds) {
    StringBuilder rules = new StringBuilder("rules: 1\nroutes:\n");
    for (int at = 1; at <= speeds.size(); at++) {
      String to = at == speeds.size() ? "j" + (at + 1) : "a" + (at + 1);
      rules.append(
          "  - {from: a%d, to: %s, speed: %s, release: 5 s}\n"
              .formatted(at, to, speeds.get(at - 1)));
    }
    return rules + aspects;
  }
}
