package tappet.simulator.scenario;

import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import tappet.sentence.Command;
import tappet.sentence.Condition;
import tappet.sentence.Happening;
import tappet.sentence.Sentences;
import tappet.simulator.scenario.Step.When;
import tappet.source.Fields;
import tappet.source.NearNames;
import tappet.source.Place;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads the steps of a scenario; their names are checked later, when all of it has been read. */
final class StepReader {

  private static final int REPEAT_MAX = 100_000;
  private static final int SEED_MAX = 999_999_999;

  /** Every key of a step, with a value as an owner would write it. */
  private static final Map<String, String> EXAMPLES =
      Map.of(
          "tell", "line t2e to t4e",
          "run", "Extra 41",
          "halt", "Extra 41",
          "pass", "8 s",
          "happens", "crew throws q1 reverse",
          "fault", "motor of t1 sticks",
          "expect", "signal t2e is stop",
          "why", "t2e",
          "repeat", "3",
          "random", "{seed: 1, steps: 50, of: [{pass: 2 s}]}");

  private final Problems problems;

  StepReader(Problems problems) {
    this.problems = problems;
  }

  List<Step> steps(Value list) {
    List<Step> steps = new ArrayList<>();
    for (Value item : list.items()) {
      Value called = item.called("the step", "{tell: line t2e to t4e}");
      boolean empty = called.holdsKeys() && called.named().isEmpty();
      called.read(fields -> step(fields, empty)).flatMap(step -> step).ifPresent(steps::add);
    }
    return steps;
  }

  /**
   * @param empty whether it has no key at all; keys that no step has are told by themselves
   */
  private Optional<Step> step(Fields fields, boolean empty) {
    Map<String, Function<Value, Optional<Step>>> kinds = kinds(fields);
    Map<String, Value> written = new LinkedHashMap<>();
    kinds.forEach(
        (key, reader) -> {
          Value value = fields.optional(key, EXAMPLES.get(key));
          if (value.present()) {
            written.put(key, value);
          }
        });
    if (empty) {
      problems.add(
          fields.place(),
          "a step says what is done or expected",
          "write one of " + NearNames.oneOf(kinds.keySet()));
    } else if (written.size() > 1) {
      problems.add(
          fields.place(),
          "a step is one thing, not " + NearNames.few(written.keySet()),
          "make a step of each");
    }
    if (written.size() != 1) {
      return Optional.empty();
    }
    var only = written.entrySet().iterator().next();
    return kinds.get(only.getKey()).apply(only.getValue());
  }

  /** Every kind of step under its key; a kind asks for the keys that go with it. */
  private Map<String, Function<Value, Optional<Step>>> kinds(Fields fields) {
    Map<String, Function<Value, Optional<Step>>> kinds = new LinkedHashMap<>();
    kinds.put("tell", sentence -> tell(sentence, fields));
    kinds.put("run", train -> run(train, fields));
    kinds.put("halt", train -> halt(train, fields));
    kinds.put("pass", time -> pass(time, fields));
    kinds.put("happens", sentence -> happens("happens", sentence, fields).map(step -> step));
    kinds.put("fault", sentence -> happens("fault", sentence, fields).map(step -> step));
    kinds.put("expect", sentence -> expect(sentence, fields));
    kinds.put("why", name -> why(name, fields));
    kinds.put("repeat", times -> repeat(times, fields));
    kinds.put("random", random -> random.read(inner -> random(inner, fields)).flatMap(s -> s));
    return kinds;
  }

  private Optional<Step> tell(Value written, Fields fields) {
    Optional<String> refused = refused(fields);
    return sentence(written, Sentences::command)
        .map(said -> new Step.Tell(said.text(), said.meaning(), refused, fields.place()));
  }

  private static Optional<Step> run(Value train, Fields fields) {
    Optional<Command.Heading> heading = TrainReader.heading(fields.optional("heading", "east"));
    String towards = heading.map(way -> " " + way.word()).orElse("");
    return train
        .text()
        .map(
            name ->
                new Step.Tell(
                    "run '" + name.value() + "'" + towards,
                    new Command.Run(name.value(), heading, name.textPlace()),
                    refused(fields),
                    fields.place()));
  }

  private static Optional<Step> halt(Value train, Fields fields) {
    return train
        .text()
        .map(
            name ->
                new Step.Tell(
                    "halt '" + name.value() + "'",
                    new Command.Halt(name.value(), name.textPlace()),
                    refused(fields),
                    fields.place()));
  }

  private static Optional<Step> pass(Value written, Fields fields) {
    return written
        .duration()
        .map(time -> new Step.Pass(written.text().orElseThrow().value(), time, fields.place()));
  }

  private Optional<Step.Happens> happens(String key, Value written, Fields fields) {
    Optional<String> refused = refused(fields);
    return sentence(written, Sentences::happening)
        .map(said -> new Step.Happens(key, said.text(), said.meaning(), refused, fields.place()));
  }

  /** What has happened before the start. */
  List<Step.Happens> given(Value list) {
    List<Step.Happens> given = new ArrayList<>();
    for (Value item : list.items()) {
      Value called = item.called("what is given", "crew forces t1 reverse");
      sentence(called, Sentences::happening)
          .filter(said -> isBeforeTheStart(called, said.meaning()))
          .map(
              said ->
                  new Step.Happens(
                      "given", said.text(), said.meaning(), Optional.empty(), called.place()))
          .ifPresent(given::add);
    }
    return given;
  }

  private static boolean isBeforeTheStart(Value value, Happening happening) {
    boolean onTheBus =
        happening instanceof Happening.Emergency
            || happening instanceof Happening.AliasClashes
            || happening instanceof Happening.CableIs
            || happening instanceof Happening.DaemonIs
            || happening instanceof Happening.BoardBrownsOut;
    if (onTheBus) {
      value.note("before the start nobody speaks on the bus", "make it the first step");
    }
    return !onTheBus;
  }

  private static Optional<String> refused(Fields fields) {
    return fields.optional("refused", "section mid-east").text().map(YamlNode.Text::value);
  }

  private Optional<Step> expect(Value written, Fields fields) {
    Optional<When> when = when(fields);
    Optional<Said<Condition>> said = sentence(written, Sentences::expectation);
    return when.isEmpty()
        ? Optional.empty()
        : said.map(
            condition ->
                new Step.Expect(condition.text(), condition.meaning(), when.get(), fields.place()));
  }

  private Optional<When> when(Fields fields) {
    Value within = fields.optional("within", "8 s");
    Value always = fields.optional("always", "8 s");
    Value never = fields.optional("never", "8 s");
    Value until = fields.optional("until", "route t2e-t4e is not locked");
    long terms = List.of(within, always, never).stream().filter(Value::present).count();
    if (terms > 1 || (until.present() && (always.present() || never.present()))) {
      problems.add(
          fields.place(),
          "an expectation has one of within, always, never and until",
          "make a step of each; only until can have a within besides, as its time limit");
      return Optional.empty();
    }
    if (until.present()) {
      Duration atMost =
          within.present() ? within.duration().orElse(Duration.ZERO) : When.Until.AT_MOST_USUAL;
      return sentence(until, Sentences::expectation)
          .map(end -> new When.Until(end.text(), end.meaning(), atMost));
    }
    if (within.present()) {
      return within.duration().map(time -> new When.Within(text(within), time));
    }
    if (always.present()) {
      return always.duration().map(time -> new When.Always(text(always), time));
    }
    return never.present()
        ? never.duration().map(time -> new When.Never(text(never), time))
        : Optional.of(new When.Now());
  }

  private static String text(Value value) {
    return value.text().orElseThrow().value();
  }

  private static Optional<Step> why(Value name, Fields fields) {
    Optional<YamlNode.Text> says = fields.required("says", "section tilling-w is occupied").text();
    return name.text()
        .flatMap(
            device ->
                says.map(words -> new Step.Why(device.value(), words.value(), device.textPlace())));
  }

  private Optional<Step> repeat(Value times, Fields fields) {
    List<Step> steps = steps(fields.required("steps", "[{pass: 1 s}]"));
    return times
        .wholeNumber(1, REPEAT_MAX)
        .map(count -> new Step.Repeat(count, steps, fields.place()));
  }

  private Optional<Step> random(Fields fields, Fields step) {
    Optional<Integer> seed = fields.required("seed", "1").wholeNumber(0, SEED_MAX);
    Optional<Integer> count = fields.required("steps", "50").wholeNumber(1, REPEAT_MAX);
    Value choices = fields.required("of", "[{tell: line t2e to t4e}, {pass: 2 s}]");
    List<Step> of = steps(choices);
    if (choices.present() && choices.items().isEmpty()) {
      choices.note("chance needs something to choose from", "write a step or two");
    }
    return seed.isEmpty() || count.isEmpty() || of.isEmpty()
        ? Optional.empty()
        : Optional.of(new Step.AtRandom(seed.get(), count.get(), of, step.place()));
  }

  /** What must never be so. */
  List<Scenario.Forbidden> forbidden(Value list) {
    List<Scenario.Forbidden> never = new ArrayList<>();
    for (Value item : list.items()) {
      Value called = item.called("what is never so", "section mid-east is unknown");
      sentence(called, Sentences::expectation)
          .map(said -> new Scenario.Forbidden(said.text(), said.meaning(), called.place()))
          .ifPresent(never::add);
    }
    return never;
  }

  /** A sentence as it was written, and what it means. */
  private record Said<T>(String text, T meaning) {}

  /** Reads one kind of sentence. */
  @FunctionalInterface
  private interface Grammar<T> {
    Optional<T> read(String text, Place at, Problems problems);
  }

  private <T> Optional<Said<T>> sentence(Value value, Grammar<T> grammar) {
    return value
        .text()
        .flatMap(
            text ->
                grammar
                    .read(text.value(), text.textPlace(), problems)
                    .map(meaning -> new Said<>(text.value(), meaning)));
  }
}
