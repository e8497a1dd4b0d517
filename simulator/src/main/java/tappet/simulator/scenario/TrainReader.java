package tappet.simulator.scenario;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import tappet.sentence.Command.Heading;
import tappet.simulator.TrainSpec;
import tappet.source.Fields;
import tappet.source.Place;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads the trains that an owner puts on the track of the simulated railway. */
public final class TrainReader {

  /** How an owner writes a list of them. */
  public static final String EXAMPLE =
      "[{train: Extra 41, on: west-main, heading: east, length: 1.2 m}]";

  /** What a train runs at where nothing is said, in metres a second. */
  public static final double SPEED_USUAL = 0.4;

  private static final List<String> HEADINGS = List.of("east", "west");

  private TrainReader() {}

  /** A train and where it stands in the file. */
  public record Placed(TrainSpec spec, Place place) {}

  /** The trains of a list, without those that have a mistake. */
  public static List<Placed> trains(Value list) {
    List<Placed> trains = new ArrayList<>();
    for (Value item : list.items()) {
      item.called("the train", EXAMPLE.substring(1, EXAMPLE.length() - 1))
          .read(TrainReader::train)
          .flatMap(train -> train)
          .ifPresent(trains::add);
    }
    return trains;
  }

  private static Optional<Placed> train(Fields fields) {
    Optional<YamlNode.Text> name = fields.required("train", "Extra 41").text();
    Optional<YamlNode.Text> on = fields.required("on", "west-main").text();
    Optional<Heading> heading = heading(fields.required("heading", "east"));
    Optional<Double> length = fields.required("length", "1.2 m").metres();
    double speed = speed(fields.optional("speed", "0.4"));
    boolean engine = fields.optional("engine", "no").yesOrNo().orElse(true);
    if (name.isEmpty() || on.isEmpty() || heading.isEmpty() || length.isEmpty()) {
      return Optional.empty();
    }
    TrainSpec spec =
        new TrainSpec(
            name.get().value(), on.get().value(), heading.get(), length.get(), speed, engine);
    return Optional.of(new Placed(spec, fields.place()));
  }

  /** {@code east} or {@code west}. */
  static Optional<Heading> heading(Value value) {
    return value.word(HEADINGS).map(word -> Heading.valueOf(word.value().toUpperCase(Locale.ROOT)));
  }

  /** In metres a second; the usual one where none is told, or none that a train can have. */
  public static double speed(Value metresPerSecond) {
    Optional<Double> told = metresPerSecond.number();
    Optional<Double> speed =
        told.filter(number -> number > 0 && number <= TrainSpec.METRES_PER_SECOND_MAX);
    if (told.isPresent() && speed.isEmpty()) {
      metresPerSecond.note(
          "a train's speed is above 0 and at most %d metres a second"
              .formatted(TrainSpec.METRES_PER_SECOND_MAX),
          "write for example 0.4");
    }
    return speed.orElse(SPEED_USUAL);
  }
}
