package tappet.bridge.session;

import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;
import tappet.layout.Position;
import tappet.rules.RouteRow;
import tappet.sentence.Command;
import tappet.sentence.Command.Heading;
import tappet.sentence.Happening;
import tappet.simulator.TrainSpec;
import tappet.source.Place;

/** Says what is to be done, and keeps account of it. Every method answers why it was not done. */
final class Orders {

  private static final Place HERE = Place.inText("session", 1);

  private final Railroad railroad;
  private final Journal journal;
  private int linedCount;
  private int refusedCount;
  private int cancelledCount;

  Orders(Railroad railroad, Journal journal) {
    this.railroad = railroad;
    this.journal = journal;
  }

  Optional<String> line(RouteRow row, String train) {
    Optional<String> whyNot =
        tell(
            new Command.LineRoute(row.id(), HERE),
            "line route %s for %s".formatted(row.id(), train));
    linedCount += whyNot.isEmpty() ? 1 : 0;
    return whyNot;
  }

  Optional<String> cancel(RouteRow row, String train) {
    cancelledCount++;
    return tell(
        new Command.Cancel(row.from(), HERE), "cancel %s for %s".formatted(row.from(), train));
  }

  Optional<String> run(String train, Optional<Heading> heading) {
    String towards = heading.map(way -> " " + way.word()).orElse("");
    return tell(new Command.Run(train, heading, HERE), "run %s%s".formatted(train, towards));
  }

  Optional<String> halt(String train) {
    return tell(new Command.Halt(train, HERE), "halt %s".formatted(train));
  }

  Optional<String> release(String toe, String train) {
    return tell(
        new Command.Release(toe, Optional.of(train), HERE),
        "release %s to %s".formatted(toe, train));
  }

  Optional<String> secure(String toe) {
    return tell(new Command.Secure(toe, HERE), "secure %s".formatted(toe));
  }

  Optional<String> grantPermit(String train, List<String> sections) {
    return tell(
        new Command.GrantPermit(train, sections, Optional.of("work"), HERE),
        "grant permit to %s on %s".formatted(train, String.join(", ", sections)));
  }

  Optional<String> returnPermit(String train) {
    return tell(new Command.ReturnPermit(train, HERE), "return permit of %s".formatted(train));
  }

  Optional<String> throwByHand(String toe, Position position) {
    return done(
        railroad.happen(new Happening.CrewThrows(toe, position, HERE)),
        "crew throws %s %s".formatted(toe, position.word()));
  }

  Optional<String> lift(String train) {
    return done(
        railroad.happen(new Happening.TrainIsLifted(train, HERE)), "%s is lifted".formatted(train));
  }

  Optional<String> place(TrainSpec train) {
    return done(railroad.place(train), "%s is put on %s".formatted(train.name(), train.section()));
  }

  /** Gives an order of which it makes no difference now whether it is refused. */
  static void tryTo(Supplier<Optional<String>> order) {
    Optional<String> unused = order.get();
  }

  private Optional<String> tell(Command command, String words) {
    return done(railroad.tell(command), words);
  }

  private Optional<String> done(Optional<String> whyNot, String words) {
    refusedCount += whyNot.isPresent() ? 1 : 0;
    journal.note(words + whyNot.map(reason -> "; refused: " + reason).orElse(""));
    return whyNot;
  }

  int linedCount() {
    return linedCount;
  }

  int refusedCount() {
    return refusedCount;
  }

  int cancelledCount() {
    return cancelledCount;
  }
}
