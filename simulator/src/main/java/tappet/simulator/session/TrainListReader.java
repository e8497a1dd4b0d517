package tappet.simulator.session;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import tappet.layout.Layout;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.sentence.ClockTexts;
import tappet.simulator.scenario.TrainReader;
import tappet.simulator.session.ListedTrain.Call;
import tappet.simulator.session.ListedTrain.Named;
import tappet.simulator.session.ListedTrain.Start;
import tappet.simulator.session.ListedTrain.Then;
import tappet.source.Fields;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads train lists. Every mistake becomes a problem at its place, all of them in one run. */
public final class TrainListReader {

  private static final String TRAIN =
      "{train: Local, length: 1.2 m, from: fallow-1, to: corvane-main, at: 06:10}";
  private static final String CALL = "{at: tilling-siding, work: 10 min}";
  private static final Rate CLOCK_RATE_USUAL = new Rate(16);
  private static final Time CLOCK_TIME_USUAL = new Time(6, 0);
  private static final TrainList.Clock CLOCK_USUAL =
      new TrainList.Clock(CLOCK_RATE_USUAL, CLOCK_TIME_USUAL);

  private final Problems problems;

  private TrainListReader(Problems problems) {
    this.problems = problems;
  }

  /**
   * Reads a train list.
   *
   * @param file its name
   * @param text what is in it
   * @param layout whose sections and switches it speaks of
   * @param problems where mistakes are noted
   * @return empty if there is any mistake in it
   */
  public static Optional<TrainList> read(
      String file, String text, Layout layout, Problems problems) {
    Problems own = new Problems();
    TrainListReader reader = new TrainListReader(own);
    Optional<TrainList> list =
        Value.ofFile("the train list", file, text, own).read(reader::trainList);
    list.ifPresent(whole -> new TrainListCheck(layout, whole, own).check());
    own.sorted().forEach(problems::add);
    return list.filter(whole -> own.none());
  }

  private TrainList trainList(Fields fields) {
    Optional<String> name = text(fields.required("session", "A day on the line"));
    TrainList.Clock clock =
        fields.required("clock", "{rate: 4, time: 06:00}").read(this::clock).orElse(CLOCK_USUAL);
    Value list = fields.required("trains", "[" + TRAIN + "]");
    List<ListedTrain> trains = new ArrayList<>();
    for (Value item : list.items()) {
      item.called("the train", TRAIN)
          .read(this::train)
          .flatMap(train -> train)
          .ifPresent(trains::add);
    }
    if (list.present() && list.items().isEmpty()) {
      list.note("a session without a train is none", "write a train or two");
    }
    return new TrainList(name.orElse(""), clock, trains);
  }

  private TrainList.Clock clock(Fields fields) {
    Value rate = fields.required("rate", "4");
    Value time = fields.required("time", "06:00");
    return new TrainList.Clock(
        rate.text()
            .flatMap(text -> ClockTexts.rate(text.value(), rate::note))
            .filter(read -> runsForwards(read, rate))
            .orElse(CLOCK_RATE_USUAL),
        time.parsed(ClockTexts::time, "a time of day from 00:00 to 23:59")
            .orElse(CLOCK_TIME_USUAL));
  }

  private static boolean runsForwards(Rate rate, Value value) {
    if (rate.quarters() < 0) {
      value.note("no train can run by a clock that runs backwards", "write for example 4");
    }
    return rate.quarters() > 0;
  }

  private Optional<ListedTrain> train(Fields fields) {
    Optional<String> name = text(fields.required("train", "Local"));
    Optional<Double> length = fields.required("length", "1.2 m").metres();
    double speed = TrainReader.speed(fields.optional("speed", "0.4"));
    Optional<Named> from = named(fields.required("from", "fallow-1"));
    List<Call> calls = calls(fields.optional("calls", "[" + CALL + "]"));
    Optional<Named> to = named(fields.required("to", "corvane-main"));
    Optional<Start> start = start(fields);
    Optional<Then> then =
        fields
            .optional("then", "goes back")
            .word(Then.allWords())
            .map(word -> Then.of(word.value()));
    Optional<Duration> again = fields.optional("again", "3 h").duration();
    if (name.isEmpty() || length.isEmpty() || from.isEmpty() || to.isEmpty() || start.isEmpty()) {
      return Optional.empty();
    }
    return Optional.of(
        new ListedTrain(
            name.get(),
            length.get(),
            speed,
            from.get(),
            calls,
            to.get(),
            start.get(),
            then.orElse(Then.STAYS),
            again,
            fields.place()));
  }

  private Optional<Start> start(Fields fields) {
    Value at = fields.optional("at", "06:10");
    Value after = fields.optional("after", "Local");
    if (at.present() == after.present()) {
      problems.add(
          fields.place(),
          at.present()
              ? "a train begins at a time or after another train, not both"
              : "it is not said when the train begins",
          "write for example 'at: 06:10' or 'after: Local'");
      return Optional.empty();
    }
    return at.present()
        ? at.parsed(ClockTexts::time, "a time of day from 00:00 to 23:59").map(Start.At::new)
        : named(after).map(Start.After::new);
  }

  private List<Call> calls(Value list) {
    List<Call> calls = new ArrayList<>();
    for (Value item : list.items()) {
      item.called("the call", CALL)
          .read(TrainListReader::call)
          .flatMap(call -> call)
          .ifPresent(calls::add);
    }
    return calls;
  }

  private static Optional<Call> call(Fields fields) {
    Optional<Named> at = named(fields.required("at", "tilling-siding"));
    Optional<Duration> work = fields.optional("work", "10 min").duration();
    List<Named> permit = new ArrayList<>();
    for (Value item : fields.optional("permit", "[yard-throat]").items()) {
      named(item).ifPresent(permit::add);
    }
    Optional<Named> release = named(fields.optional("release", "q1"));
    return at.map(named -> new Call(named, work.orElse(Duration.ZERO), permit, release));
  }

  private static Optional<String> text(Value value) {
    return value.text().map(YamlNode.Text::value);
  }

  private static Optional<Named> named(Value value) {
    return value.text().map(name -> new Named(name.value(), name.textPlace()));
  }
}
