package tappet.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.BitSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Scanner;
import java.util.function.Consumer;

/** Reads an AIGER text and says what it means, line by line and without anything of Tappet. */
final class AigerReading {

  private record Latch(int literal, int next, int reset) {}

  private record Gate(int literal, int one, int other) {}

  private final Scanner lines;
  private final List<Integer> inputs = new ArrayList<>();
  private final List<Latch> latches = new ArrayList<>();
  private final List<Integer> bad = new ArrayList<>();
  private final List<Integer> constraints = new ArrayList<>();
  private final List<Gate> gates = new ArrayList<>();

  /** By kind, as "i", "l", "b" or "c", and name: the place among its kind. */
  private final Map<String, Integer> places = new HashMap<>();

  AigerReading(String text) {
    lines = new Scanner(text);
    String header = lines.nextLine();
    assertTrue(header.startsWith("aag "), header);
    int[] counts = numbers(header.substring(4));
    assertEquals(counts[0], counts[1] + counts[2] + counts[4], "numbers");
    assertEquals(0, counts[3], "outputs");
    repeat(counts[1], line -> inputs.add(line[0]));
    repeat(counts[2], line -> latches.add(new Latch(line[0], line[1], line[2])));
    repeat(counts[5], line -> bad.add(line[0]));
    repeat(counts[6], line -> constraints.add(line[0]));
    repeat(counts[4], line -> addGate(new Gate(line[0], line[1], line[2])));
    while (lines.hasNextLine()) {
      readName(lines.nextLine());
    }
    assertEquals(
        inputs.size() + latches.size() + bad.size() + constraints.size(), places.size(), "names");
  }

  private void repeat(int count, Consumer<int[]> reader) {
    for (int line = 0; line < count; line++) {
      reader.accept(numbers(lines.nextLine()));
    }
  }

  private static int[] numbers(String line) {
    return Arrays.stream(line.split(" ", -1)).mapToInt(Integer::parseInt).toArray();
  }

  /** Each gate reads what has been told before, the greater one first. */
  private void addGate(Gate gate) {
    assertEquals(2 * (inputs.size() + latches.size() + gates.size() + 1), gate.literal());
    assertTrue(gate.literal() > gate.one() && gate.one() >= gate.other(), gate.toString());
    gates.add(gate);
  }

  private void readName(String line) {
    int space = line.indexOf(' ');
    places.put(line.charAt(0) + line.substring(space), Integer.parseInt(line.substring(1, space)));
  }

  /** The names of a kind. */
  List<String> names(char kind) {
    return places.keySet().stream()
        .filter(name -> name.charAt(0) == kind)
        .map(name -> name.substring(2))
        .toList();
  }

  /** Whether a latch is true in the first tick. */
  boolean isFirst(String latch) {
    int reset = latches.get(place('l', latch)).reset();
    assertTrue(reset == 0 || reset == 1, latch);
    return reset == 1;
  }

  private int place(char kind, String name) {
    return places.get(kind + " " + name);
  }

  /**
   * One tick.
   *
   * @param inputsOn the names of the inputs that are true
   * @param latchesOn the names of the latches that are true
   */
  Values values(Iterable<String> inputsOn, Iterable<String> latchesOn) {
    return new Values(inputsOn, latchesOn);
  }

  /** What everything is in one tick. */
  final class Values {

    private final BitSet value = new BitSet();

    private Values(Iterable<String> inputsOn, Iterable<String> latchesOn) {
      inputsOn.forEach(name -> value.set(inputs.get(place('i', name)) / 2));
      latchesOn.forEach(name -> value.set(latches.get(place('l', name)).literal() / 2));
      gates.forEach(
          gate -> value.set(gate.literal() / 2, holds(gate.one()) && holds(gate.other())));
    }

    private boolean holds(int literal) {
      return value.get(literal / 2) != (literal % 2 == 1);
    }

    boolean bad(String name) {
      return holds(bad.get(place('b', name)));
    }

    boolean constraint(String name) {
      return holds(constraints.get(place('c', name)));
    }

    boolean next(String latch) {
      return holds(latches.get(place('l', latch)).next());
    }
  }
}
