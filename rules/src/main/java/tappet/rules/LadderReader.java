package tappet.rules;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import tappet.layout.Signal;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads the aspect ladder of one speed: {@code beyond stop: approach}, rung by rung. */
final class LadderReader {

  private static final String BEYOND = "beyond ";
  private static final String EXAMPLE = "write for example 'beyond stop: approach'";

  private LadderReader() {}

  static AspectLadder read(Value.Named speed, Problems problems) {
    Map<String, String> beyond = new LinkedHashMap<>();
    boolean readable = true;
    for (Value.Named rung : speed.value().called(speed.key().shown(), EXAMPLE).named()) {
      Optional<String> next = next(rung.key(), problems);
      Optional<String> aspect = aspect(rung.value());
      readable &= next.isPresent() && aspect.isPresent();
      next.ifPresent(from -> aspect.ifPresent(gives -> beyond.put(from, gives)));
    }
    if (readable && !beyond.containsKey(Signal.STOP)) {
      problems.add(
          speed.key().place(),
          "the aspects of %s do not say what is shown beyond stop".formatted(speed.key().shown()),
          "add for example 'beyond stop: approach'");
    }
    beyond.putIfAbsent(Signal.STOP, Signal.STOP);
    return new AspectLadder(speed.key().value(), beyond, speed.key().place());
  }

  private static Optional<String> next(YamlNode.Text key, Problems problems) {
    if (key.value().startsWith(BEYOND) && !key.value().substring(BEYOND.length()).isBlank()) {
      return Optional.of(key.value().substring(BEYOND.length()).strip());
    }
    problems.add(key.place(), "%s is no rung of an aspect ladder".formatted(key.shown()), EXAMPLE);
    return Optional.empty();
  }

  private static Optional<String> aspect(Value value) {
    Optional<String> aspect = value.identifier().map(YamlNode.Text::value);
    if (aspect.isPresent() && aspect.get().equals(Signal.STOP)) {
      value.note(
          "a ladder says what a signal shows when it clears, and that is not stop",
          "write a proceed aspect, for example 'approach'");
      return Optional.empty();
    }
    return aspect;
  }
}
