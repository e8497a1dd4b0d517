package tappet.proof;

import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import tappet.network.Stepper;
import tappet.network.Variable;

/**
 * How a property comes to be broken: what happens, one thing after the other.
 *
 * @param beginning how everything lies before
 * @param moments what happens; none where the property is broken from the beginning
 */
public record Story(Beginning beginning, List<Moment> moments) {
  public Story {
    moments = List.copyOf(moments);
  }

  /**
   * What happens at once, before the network settles again.
   *
   * @param reports inputs that change
   * @param values what they change to, in the same order
   * @param pulses what is asked for, or a time that runs out
   */
  public record Moment(List<Variable> reports, List<Boolean> values, Set<Variable> pulses) {
    public Moment {
      reports = List.copyOf(reports);
      values = List.copyOf(values);
      pulses = Set.copyOf(pulses);
    }

    /** What happens, in plain words. */
    public String words() {
      List<String> reported =
          IntStream.range(0, reports.size())
              .mapToObj(index -> reported(reports.get(index), values.get(index)))
              .toList();
      List<String> asked = pulses.stream().map(Variable::name).sorted().toList();
      return Stream.concat(asked.stream(), reported.stream()).collect(Collectors.joining("; "));
    }

    private static String reported(Variable input, boolean value) {
      String words = input.words().when(value);
      return words.isEmpty() ? input.name() + (value ? "" : " no longer") : words;
    }
  }

  /** A network as the story finds it. */
  public Stepper begin(Watched watched) {
    return beginning.of(watched.happenings(), new Stepper(watched.network()));
  }

  /** The whole of it: how it begins, and then a numbered line a moment. */
  public String text() {
    StringBuilder text = new StringBuilder(beginning.words()).append('\n');
    for (int index = 0; index < moments.size(); index++) {
      text.append(index + 1).append(". ").append(moments.get(index).words()).append('\n');
    }
    return text.toString();
  }
}
