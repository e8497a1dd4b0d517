package tappet.network;

import java.util.ArrayList;
import java.util.List;

/** What a stepper tells, as words: {@code "a"} when a becomes true, {@code "not a"} when false. */
final class Told {

  private Told() {}

  static Words words(String name) {
    return Words.fact(name, "not " + name);
  }

  /** One step and all that it tells, in order. */
  static List<String> by(Stepper stepper) {
    List<String> told = new ArrayList<>();
    stepper.step((variable, value) -> told.add(variable.words().when(value)));
    return told;
  }
}
