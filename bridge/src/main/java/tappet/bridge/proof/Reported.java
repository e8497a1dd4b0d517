package tappet.bridge.proof;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import tappet.network.Network;
import tappet.network.Variable;

/**
 * What devices report: the inputs of a network in sentences. A device has two inputs or more, and
 * says one thing by all of them.
 */
final class Reported {

  /**
   * A kind of device that is in one of two states.
   *
   * @param sentence how a sentence about it begins, with the device's id to be put in
   * @param one its first state, as inputs and sentences name it
   */
  private record Kind(Pattern inputs, String sentence, String one, String other) {

    static Kind of(String inputs, String sentence, String one, String other) {
      String roles =
          "(?:known|reported|known %s|detected %s|detected %s)".formatted(one, one, other);
      return new Kind(Pattern.compile("(" + inputs + ") " + roles), sentence, one, other);
    }
  }

  private static final List<Kind> KINDS =
      List.of(
          Kind.of("switch (\\S+):", "switch %s reports", "normal", "reverse"),
          Kind.of("lock (\\S+):", "lock of %s reports", "released", "secured"),
          Kind.of("opening (\\S+):", "opening %s reports", "closed", "open"),
          Kind.of("opening (\\S+):", "bolt of %s reports", "locked", "unlocked"),
          Kind.of("power district (\\S+):", "breaker of %s reports", "tripped", "restored"));

  private static final Pattern SECTION =
      Pattern.compile("(section (\\S+):) (known|reported|occupied)");
  private static final Pattern BUTTON = Pattern.compile("(button (\\S+):) .*(pressed|released)");
  private static final Pattern LAMP =
      Pattern.compile("(signal (\\S+): lamp (\\S+)) (known|failed)");

  private final Network network;
  private final Map<String, String> saidLast = new HashMap<>();

  Reported(Network network) {
    this.network = network;
  }

  /**
   * What a device says now that one of its inputs has changed.
   *
   * @param values the values of all inputs now
   */
  Deed deed(Variable input, Predicate<Variable> values) {
    return sentence(input, values)
        .map(sentence -> isSaid(sentence) ? Deed.follows(sentence) : Deed.befalls(sentence))
        .orElseGet(() -> Deed.unsaid(words(input, values.test(input))));
  }

  /** The same again is nothing new: the device's other input tells it too. */
  private boolean isSaid(String sentence) {
    int state = sentence.lastIndexOf(' ');
    String said = sentence.substring(state);
    return said.equals(saidLast.put(sentence.substring(0, state), said));
  }

  private static String words(Variable input, boolean value) {
    String words = input.words().when(value);
    return words.isEmpty() ? input.name() + (value ? "" : " no longer") : words;
  }

  private Optional<String> sentence(Variable input, Predicate<Variable> values) {
    Matcher section = SECTION.matcher(input.name());
    if (section.matches()) {
      return Optional.of(
          "section " + section.group(2) + " reports " + occupancy(section.group(1), values));
    }
    Matcher button = BUTTON.matcher(input.name());
    if (button.matches()) {
      boolean pressed = isTrue(button.group(1) + " detected pressed", values);
      return Optional.of("button " + button.group(2) + (pressed ? " is pressed" : " is released"));
    }
    Matcher lamp = LAMP.matcher(input.name());
    if (lamp.matches()) {
      boolean failed = isTrue(lamp.group(1) + " failed", values);
      return Optional.of(
          "lamp %s of %s %s"
              .formatted(lamp.group(3), lamp.group(2), failed ? "burns out" : "is replaced"));
    }
    return KINDS.stream().flatMap(kind -> sentence(kind, input, values).stream()).findFirst();
  }

  private String occupancy(String device, Predicate<Variable> values) {
    if (isFalse(device + " known", values) || isFalse(device + " reported", values)) {
      return "nothing";
    }
    return isTrue(device + " occupied", values) ? "occupied" : "clear";
  }

  private Optional<String> sentence(Kind kind, Variable input, Predicate<Variable> values) {
    Matcher device = kind.inputs().matcher(input.name());
    return device.matches()
        ? Optional.of(
            kind.sentence().formatted(device.group(2))
                + " "
                + state(kind, device.group(1) + " ", values))
        : Optional.empty();
  }

  private String state(Kind kind, String role, Predicate<Variable> values) {
    boolean one = isTrue(role + "detected " + kind.one(), values);
    boolean other = isTrue(role + "detected " + kind.other(), values);
    if (isFalse(role + "known " + kind.one(), values) || (!one && !other)) {
      return "nothing";
    }
    return one && other ? "both" : one ? kind.one() : kind.other();
  }

  private boolean isTrue(String input, Predicate<Variable> values) {
    return network.find(input).filter(values).isPresent();
  }

  /** There is such an input, and it is false. */
  private boolean isFalse(String input, Predicate<Variable> values) {
    return network
        .find(input)
        .filter(found -> found.kind() == Variable.Kind.INPUT)
        .filter(found -> !values.test(found))
        .isPresent();
  }
}
