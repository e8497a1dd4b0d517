package tappet.simulator;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.layout.Section;
import tappet.layout.Switch;
import tappet.layout.TrackPlan;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.Message;
import tappet.lcc.Messages;
import tappet.sentence.Command;
import tappet.sentence.Command.Heading;
import tappet.source.Place;

/** A railway on the bench: time is turned by hand, and all that the boards say is noted. */
final class Bench {

  static final long MS = 1_000_000;

  /** The one who asks and commands: an alias that no board of the tests comes to. */
  private static final int ME = 0xEEE;

  private static final Place HERE = Place.inText("bench", 1);

  final Railway railway;
  final List<CanFrame> frames = new ArrayList<>();
  private final Layout layout;
  private long nowNs = 1_000 * MS;

  private Bench(TrackPlan plan, List<TrainSpec> trains) {
    layout = plan.layout();
    railway = new Railway(plan, trains, frames::add);
    railway.start(nowNs);
  }

  /** A railway that has just been switched on. */
  static Bench starting(TrackPlan plan, TrainSpec... trains) {
    return new Bench(plan, List.of(trains));
  }

  /** A railway whose boards take part in the traffic on the bus. */
  static Bench ready(TrackPlan plan, TrainSpec... trains) {
    var bench = starting(plan, trains);
    bench.passMs(1000);
    bench.frames.clear();
    return bench;
  }

  static TrainSpec train(String name, String section, Heading heading, double metres) {
    return new TrainSpec(name, section, heading, metres, 0.3);
  }

  void passMs(long ms) {
    nowNs += ms * MS;
    railway.advance(nowNs);
  }

  /** Lets time pass until something is so; false if it is not so after two minutes. */
  boolean passUntil(BooleanSupplier so) {
    for (int steps = 0; steps < 6000 && !so.getAsBoolean(); steps++) {
      passMs(20);
    }
    return so.getAsBoolean();
  }

  long nowNs() {
    return nowNs;
  }

  void send(Message message) {
    railway.receive(message.encode(), nowNs);
  }

  void report(EventId event) {
    send(new Message.EventReport(ME, event, false));
  }

  void show(String signal, String aspect) {
    report(layout.signals().get(signal).shows().get(aspect));
  }

  void call(String switchId, Position position) {
    report(layout.switches().get(switchId).to().get(position));
  }

  Optional<String> run(String train) {
    return railway.tell(new Command.Run(train, Optional.empty(), HERE));
  }

  Optional<String> run(String train, Heading heading) {
    return railway.tell(new Command.Run(train, Optional.of(heading), HERE));
  }

  Optional<String> halt(String train) {
    return railway.tell(new Command.Halt(train, HERE));
  }

  TrainState train(String name) {
    return railway.train(name).orElseThrow();
  }

  /** What the boards have said since the last time, the oldest first. */
  List<Message> said() {
    List<Message> said = frames.stream().map(Messages::decode).toList();
    frames.clear();
    return said;
  }

  /** The events reported since the last time, in words. */
  List<String> told() {
    return said().stream()
        .filter(Message.EventReport.class::isInstance)
        .map(message -> words(((Message.EventReport) message).event()))
        .toList();
  }

  /** The answer to a question about a produced event: valid, invalid or silence. */
  String producerSays(EventId event) {
    frames.clear();
    send(new Message.IdentifyProducer(ME, event));
    return said().stream()
        .map(answer -> ((Message.ProducerIdentified) answer).validity().name())
        .reduce((one, more) -> one + " " + more)
        .orElse("silence");
  }

  /** The answer to a question about a consumed event: valid, invalid or silence. */
  String consumerSays(EventId event) {
    frames.clear();
    send(new Message.IdentifyConsumer(ME, event));
    return said().stream()
        .map(answer -> ((Message.ConsumerIdentified) answer).validity().name())
        .reduce((one, more) -> one + " " + more)
        .orElse("silence");
  }

  private String words(EventId event) {
    for (Section section : layout.sections().values()) {
      if (event.equals(section.occupied()) || event.equals(section.clear())) {
        return section.id() + (event.equals(section.occupied()) ? " occupied" : " clear");
      }
    }
    for (Switch toe : layout.switches().values()) {
      for (Position position : Position.values()) {
        if (event.equals(toe.at().get(position))) {
          return toe.id() + " " + position.word();
        }
      }
    }
    return event.toString();
  }
}
