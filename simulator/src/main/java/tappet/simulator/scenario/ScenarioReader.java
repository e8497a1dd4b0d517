package tappet.simulator.scenario;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.sentence.ClockTexts;
import tappet.simulator.scenario.Scenario.Beginning;
import tappet.source.Fields;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/**
 * Reads scenario files. Every mistake becomes a problem at its place, all of them in one run, those
 * of included files among them.
 */
public final class ScenarioReader {

  private static final int INCLUDED_MAX = 16;
  private static final Rate CLOCK_RATE_USUAL = new Rate(8);
  private static final Time CLOCK_TIME_USUAL = new Time(6, 0);

  private final Library library;
  private final Problems problems;
  private final StepReader steps;

  /** The files that are being read, the innermost last. */
  private final Deque<String> open = new ArrayDeque<>();

  private ScenarioReader(Library library, Problems problems) {
    this.library = library;
    this.problems = problems;
    this.steps = new StepReader(problems);
  }

  /**
   * Reads a scenario.
   *
   * @param file its name and what is in it
   * @param library where the files are that it includes
   * @param names what it can speak of
   * @param problems where mistakes are noted
   * @return empty if there is any mistake in it
   */
  public static Optional<Scenario> read(
      Library.Text file, Library library, Names names, Problems problems) {
    Problems own = new Problems();
    Optional<Scenario> scenario = new ScenarioReader(library, own).read(file);
    scenario.ifPresent(whole -> new NameCheck(names, whole, own).check());
    own.sorted().forEach(problems::add);
    return scenario.filter(whole -> own.none());
  }

  private Optional<Scenario> read(Library.Text file) {
    open.addLast(file.file());
    Optional<Scenario> scenario =
        Value.ofFile("the scenario", file.file(), file.text(), problems)
            .read(fields -> scenario(fields, file.file()));
    open.removeLast();
    return scenario;
  }

  private Scenario scenario(Fields fields, String file) {
    Optional<String> name = text(fields.required("scenario", "A meet at Tilling"));
    Optional<String> about = text(fields.optional("about", "Two trains pass each other."));
    Beginning begins = beginning(fields.optional("begins", "switched on"));
    Optional<Scenario.Clock> clock =
        fields.optional("clock", "{rate: 2, time: 06:00}").read(ScenarioReader::clock);
    List<Scenario> included = included(fields.optional("include", "[meet.yaml]"), file);
    List<TrainReader.Placed> trains =
        TrainReader.trains(fields.optional("trains", TrainReader.EXAMPLE));
    List<Step.Happens> given = steps.given(fields.optional("given", "[crew forces t1 reverse]"));
    List<Scenario.Forbidden> never =
        steps.forbidden(fields.optional("never", "[section mid-east is unknown]"));
    List<String> mishaps = texts(fields.optional("mishaps", "[ran through West Tilling]"));
    List<Step> own = steps.steps(fields.required("steps", "[{tell: line t2e to t4e}]"));
    return new Scenario(
        name.orElse(""),
        about,
        begins,
        clock,
        joined(included.stream().flatMap(other -> other.trains().stream()), trains),
        joined(included.stream().flatMap(other -> other.given().stream()), given),
        joined(included.stream().flatMap(other -> other.never().stream()), never),
        joined(included.stream().flatMap(other -> other.mishaps().stream()), mishaps),
        joined(included.stream().flatMap(other -> other.steps().stream()), own),
        fields.place());
  }

  private static <T> List<T> joined(Stream<T> first, List<T> then) {
    return Stream.concat(first, then.stream()).toList();
  }

  private static Optional<String> text(Value value) {
    return value.text().map(YamlNode.Text::value);
  }

  private static List<String> texts(Value list) {
    return list.items().stream().flatMap(item -> text(item).stream()).toList();
  }

  private static Beginning beginning(Value value) {
    return value
        .word(Stream.of(Beginning.values()).map(Beginning::word).toList())
        .flatMap(word -> Beginning.of(word.value()))
        .orElse(Beginning.READY);
  }

  /** A clock with a mistake in it is one nonetheless: conditions of time do not lack it. */
  private static Scenario.Clock clock(Fields fields) {
    Value rate = fields.required("rate", "2");
    Value time = fields.required("time", "06:00");
    return new Scenario.Clock(
        rate.text()
            .flatMap(text -> ClockTexts.rate(text.value(), rate::note))
            .orElse(CLOCK_RATE_USUAL),
        time.parsed(ClockTexts::time, "a time of day from 00:00 to 23:59")
            .orElse(CLOCK_TIME_USUAL));
  }

  private List<Scenario> included(Value list, String file) {
    List<Scenario> included = new ArrayList<>();
    for (Value item : list.items()) {
      text(item).flatMap(name -> include(item, name, file)).ifPresent(included::add);
    }
    return included;
  }

  private Optional<Scenario> include(Value item, String name, String from) {
    Optional<Library.Text> text = library.include(from, name);
    if (text.isEmpty()) {
      item.note("there is no scenario file '%s' to include".formatted(name), "look at its name");
      return Optional.empty();
    }
    if (open.contains(text.get().file()) || open.size() > INCLUDED_MAX) {
      item.note("'%s' includes itself in the end".formatted(name), "take one of the includes out");
      return Optional.empty();
    }
    return read(text.get());
  }
}
