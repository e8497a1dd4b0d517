package tappet.sentence;

import java.time.Duration;
import java.util.Locale;
import java.util.function.BiFunction;
import org.antlr.v4.runtime.Token;
import org.antlr.v4.runtime.misc.ParseCancellationException;
import tappet.layout.Position;
import tappet.sentence.Happening.Report;
import tappet.sentence.Happening.Reporter;
import tappet.source.Place;
import tappet.source.Problems;
import tappet.source.Quantity;

/** Turns the parser's tree into a happening. */
final class HappeningReader extends SentenceBaseVisitor<Happening> {

  private final Place at;
  private final Problems problems;

  HappeningReader(Place at, Problems problems) {
    this.at = at;
    this.problems = problems;
  }

  @Override
  public Happening visitHappeningAlone(SentenceParser.HappeningAloneContext sentence) {
    return visit(sentence.happening());
  }

  @Override
  public Happening visitSectionReports(SentenceParser.SectionReportsContext report) {
    return reports(Reporter.SECTION, report.name(), report.state, report.besides());
  }

  @Override
  public Happening visitSwitchReports(SentenceParser.SwitchReportsContext report) {
    return reports(Reporter.SWITCH, report.name(), report.state, report.besides());
  }

  @Override
  public Happening visitLockReports(SentenceParser.LockReportsContext report) {
    return reports(Reporter.LOCK, report.name(), report.state, report.besides());
  }

  @Override
  public Happening visitOpeningReports(SentenceParser.OpeningReportsContext report) {
    return reports(Reporter.OPENING, report.name(), report.state, report.besides());
  }

  @Override
  public Happening visitBoltReports(SentenceParser.BoltReportsContext report) {
    return reports(Reporter.BOLT, report.name(), report.state, report.besides());
  }

  @Override
  public Happening visitBreakerReports(SentenceParser.BreakerReportsContext report) {
    return reports(Reporter.BREAKER, report.name(), report.state, report.besides());
  }

  /**
   * @param state null where it is {@code besides}
   */
  private Happening reports(
      Reporter reporter,
      SentenceParser.NameContext device,
      Token state,
      SentenceParser.BesidesContext besides) {
    Report report = state == null ? report(besides) : new Report.Of(lower(state));
    return new Happening.Reports(reporter, Names.name(device), report, place(device));
  }

  private static Report report(SentenceParser.BesidesContext besides) {
    if (besides.NOTHING() != null) {
      return new Report.Nothing();
    }
    return besides.BOTH() != null ? new Report.Both() : new Report.Truth();
  }

  @Override
  public Happening visitSpotReports(SentenceParser.SpotReportsContext report) {
    return new Happening.SpotReports(
        Names.name(report.name()), lower(report.way), place(report.name()));
  }

  @Override
  public Happening visitMotorSticks(SentenceParser.MotorSticksContext motor) {
    return of(motor.name(), Happening.MotorSticks::new);
  }

  @Override
  public Happening visitMotorTakes(SentenceParser.MotorTakesContext motor) {
    Duration time = duration(motor.span());
    if (time.isZero()) {
      throw wrong(motor.span(), "a motor takes some time", "write for example 6 s");
    }
    return new Happening.MotorTakes(Names.name(motor.name()), time, place(motor.name()));
  }

  @Override
  public Happening visitMotorIsMended(SentenceParser.MotorIsMendedContext motor) {
    return of(motor.name(), Happening.MotorIsMended::new);
  }

  @Override
  public Happening visitBoltSticks(SentenceParser.BoltSticksContext bolt) {
    return of(bolt.name(), Happening.BoltSticks::new);
  }

  @Override
  public Happening visitBoltIsMended(SentenceParser.BoltIsMendedContext bolt) {
    return of(bolt.name(), Happening.BoltIsMended::new);
  }

  @Override
  public Happening visitLampBurnsOut(SentenceParser.LampBurnsOutContext lamp) {
    return new Happening.LampBurnsOut(
        Names.name(lamp.lamp), Names.name(lamp.post), place(lamp.lamp), place(lamp.post));
  }

  @Override
  public Happening visitLampIsReplaced(SentenceParser.LampIsReplacedContext lamp) {
    return new Happening.LampIsReplaced(
        Names.name(lamp.lamp), Names.name(lamp.post), place(lamp.lamp), place(lamp.post));
  }

  @Override
  public Happening visitBreakerTrips(SentenceParser.BreakerTripsContext breaker) {
    return of(breaker.name(), Happening.BreakerTrips::new);
  }

  @Override
  public Happening visitBreakerIsRestored(SentenceParser.BreakerIsRestoredContext breaker) {
    return of(breaker.name(), Happening.BreakerIsRestored::new);
  }

  @Override
  public Happening visitBoardFails(SentenceParser.BoardFailsContext board) {
    return new Happening.BoardFails(
        Names.name(board.name()),
        Happening.EventFault.valueOf(upper(board.fault)),
        place(board.name()));
  }

  @Override
  public Happening visitBoardIsLate(SentenceParser.BoardIsLateContext board) {
    return new Happening.BoardIsLate(
        Names.name(board.name()), duration(board.span()), place(board.name()));
  }

  @Override
  public Happening visitBoardFallsSilent(SentenceParser.BoardFallsSilentContext board) {
    return of(board.name(), Happening.BoardFallsSilent::new);
  }

  @Override
  public Happening visitBoardSpeaksAgain(SentenceParser.BoardSpeaksAgainContext board) {
    return of(board.name(), Happening.BoardSpeaksAgain::new);
  }

  @Override
  public Happening visitBoardReboots(SentenceParser.BoardRebootsContext board) {
    return of(board.name(), Happening.BoardReboots::new);
  }

  @Override
  public Happening visitAliasClashes(SentenceParser.AliasClashesContext board) {
    return of(board.name(), Happening.AliasClashes::new);
  }

  @Override
  public Happening visitOpeningIsMoved(SentenceParser.OpeningIsMovedContext opening) {
    return opening.way.getType() == SentenceParser.OPENED
        ? of(opening.name(), Happening.OpeningIsOpened::new)
        : of(opening.name(), Happening.OpeningIsClosed::new);
  }

  @Override
  public Happening visitCrewThrows(SentenceParser.CrewThrowsContext crew) {
    return new Happening.CrewThrows(
        Names.name(crew.name()), position(crew.position), place(crew.name()));
  }

  @Override
  public Happening visitCrewForces(SentenceParser.CrewForcesContext crew) {
    return new Happening.CrewForces(
        Names.name(crew.name()), position(crew.position), place(crew.name()));
  }

  @Override
  public Happening visitCrewAsks(SentenceParser.CrewAsksContext crew) {
    return new Happening.CrewAsks(
        Names.name(crew.name()), position(crew.position), place(crew.name()));
  }

  @Override
  public Happening visitCrewBreaksLock(SentenceParser.CrewBreaksLockContext crew) {
    return of(crew.name(), Happening.CrewBreaksLock::new);
  }

  @Override
  public Happening visitButtonIs(SentenceParser.ButtonIsContext button) {
    boolean pressed = button.way.getType() == SentenceParser.PRESSED;
    return new Happening.ButtonIs(Names.name(button.name()), pressed, place(button.name()));
  }

  @Override
  public Happening visitCableIsPulled(SentenceParser.CableIsPulledContext cable) {
    return new Happening.CableIs(false);
  }

  @Override
  public Happening visitCableIsPluggedIn(SentenceParser.CableIsPluggedInContext cable) {
    return new Happening.CableIs(true);
  }

  @Override
  public Happening visitTrainIsLifted(SentenceParser.TrainIsLiftedContext train) {
    return of(train.name(), Happening.TrainIsLifted::new);
  }

  @Override
  public Happening visitEngineer(SentenceParser.EngineerContext engineer) {
    boolean obeys = engineer.way.getType() == SentenceParser.OBEYS;
    return new Happening.Engineer(Names.name(engineer.name()), obeys, place(engineer.name()));
  }

  @Override
  public Happening visitEmergency(SentenceParser.EmergencyContext emergency) {
    return new Happening.Emergency(
        Happening.EmergencyKind.valueOf(upper(emergency.kind)),
        emergency.way.getType() == SentenceParser.CALLED);
  }

  private Happening of(
      SentenceParser.NameContext name, BiFunction<String, Place, Happening> happening) {
    return happening.apply(Names.name(name), place(name));
  }

  private Place place(SentenceParser.NameContext name) {
    return Names.place(name, at);
  }

  private Duration duration(SentenceParser.SpanContext span) {
    String text = span.getStart().getText() + " " + span.getStop().getText();
    return Quantity.duration(text)
        .orElseThrow(
            () ->
                wrong(
                    span,
                    "'%s' is not a time with its unit (ms, s, min, h)".formatted(text),
                    "write for example 800 ms"));
  }

  /** What is wrong has been noted when the reading ends early. */
  private ParseCancellationException wrong(
      SentenceParser.SpanContext span, String wrong, String meant) {
    problems.add(Names.place(span.getStart(), at), wrong, meant);
    return new ParseCancellationException(wrong);
  }

  private static Position position(Token word) {
    return Position.valueOf(upper(word));
  }

  private static String upper(Token word) {
    return word.getText().toUpperCase(Locale.ROOT);
  }

  private static String lower(Token word) {
    return word.getText().toLowerCase(Locale.ROOT);
  }
}
