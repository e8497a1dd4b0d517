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
  public Happening visitTrack(SentenceParser.TrackContext track) {
    if (track.REPORTS() != null) {
      return reports(Reporter.SECTION, track.name(), track.state, track.besides());
    }
    if (track.FLICKERS() != null) {
      return of(track.name(), Happening.SectionFlickers::new);
    }
    boolean shorted = track.way.getType() == SentenceParser.SHORTED;
    return new Happening.SectionIsShorted(Names.name(track.name()), shorted, place(track.name()));
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
  public Happening visitLeaf(SentenceParser.LeafContext opening) {
    if (opening.REPORTS() != null) {
      return reports(Reporter.OPENING, opening.name(), opening.state, opening.besides());
    }
    return opening.way.getType() == SentenceParser.OPENED
        ? of(opening.name(), Happening.OpeningIsOpened::new)
        : of(opening.name(), Happening.OpeningIsClosed::new);
  }

  @Override
  public Happening visitBolt(SentenceParser.BoltContext bolt) {
    if (bolt.REPORTS() != null) {
      return reports(Reporter.BOLT, bolt.name(), bolt.state, bolt.besides());
    }
    return bolt.fitness().STICKS() != null
        ? of(bolt.name(), Happening.BoltSticks::new)
        : of(bolt.name(), Happening.BoltIsMended::new);
  }

  @Override
  public Happening visitBreaker(SentenceParser.BreakerContext breaker) {
    if (breaker.REPORTS() != null) {
      return reports(Reporter.BREAKER, breaker.name(), breaker.state, breaker.besides());
    }
    return breaker.TRIPS() != null
        ? of(breaker.name(), Happening.BreakerTrips::new)
        : of(breaker.name(), Happening.BreakerIsRestored::new);
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
  public Happening visitMotor(SentenceParser.MotorContext motor) {
    if (motor.TAKES() != null) {
      return new Happening.MotorTakes(
          Names.name(motor.name()), someTime(motor.span()), place(motor.name()));
    }
    return motor.fitness().STICKS() != null
        ? of(motor.name(), Happening.MotorSticks::new)
        : of(motor.name(), Happening.MotorIsMended::new);
  }

  private Duration someTime(SentenceParser.SpanContext span) {
    Duration time = duration(span);
    if (time.isZero()) {
      throw wrong(span, "a motor takes some time", "write for example 6 s");
    }
    return time;
  }

  @Override
  public Happening visitLamp(SentenceParser.LampContext lamp) {
    String id = Names.name(lamp.lamp);
    String signal = Names.name(lamp.post);
    return lamp.BURNS() != null
        ? new Happening.LampBurnsOut(id, signal, place(lamp.lamp), place(lamp.post))
        : new Happening.LampIsReplaced(id, signal, place(lamp.lamp), place(lamp.post));
  }

  @Override
  public Happening visitBoard(SentenceParser.BoardContext board) {
    SentenceParser.BoardDoesContext does = board.boardDoes();
    if (does.fault != null) {
      return new Happening.BoardFails(
          Names.name(board.name()),
          Happening.EventFault.valueOf(upper(does.fault)),
          place(board.name()));
    }
    if (does.LATE() != null) {
      return new Happening.BoardIsLate(
          Names.name(board.name()), duration(does.span()), place(board.name()));
    }
    if (does.FALLS() != null) {
      return of(board.name(), Happening.BoardFallsSilent::new);
    }
    if (does.BROWNS() != null) {
      return of(board.name(), Happening.BoardBrownsOut::new);
    }
    return does.SPEAKS() != null
        ? of(board.name(), Happening.BoardSpeaksAgain::new)
        : of(board.name(), Happening.BoardReboots::new);
  }

  @Override
  public Happening visitAliasClashes(SentenceParser.AliasClashesContext board) {
    return of(board.name(), Happening.AliasClashes::new);
  }

  @Override
  public Happening visitCrew(SentenceParser.CrewContext crew) {
    return crew.BREAKS() != null
        ? of(crew.name(), Happening.CrewBreaksLock::new)
        : visit(crew.crewMoves());
  }

  @Override
  public Happening visitCrewMoves(SentenceParser.CrewMovesContext crew) {
    String toe = Names.name(crew.name());
    Position position = Position.valueOf(upper(crew.position));
    return switch (crew.deed.getType()) {
      case SentenceParser.THROWS -> new Happening.CrewThrows(toe, position, place(crew.name()));
      case SentenceParser.FORCES -> new Happening.CrewForces(toe, position, place(crew.name()));
      default -> new Happening.CrewAsks(toe, position, place(crew.name()));
    };
  }

  @Override
  public Happening visitButton(SentenceParser.ButtonContext button) {
    boolean pressed = button.way.getType() == SentenceParser.PRESSED;
    return new Happening.ButtonIs(Names.name(button.name()), pressed, place(button.name()));
  }

  @Override
  public Happening visitCable(SentenceParser.CableContext cable) {
    return new Happening.CableIs(cable.PLUGGED() != null);
  }

  @Override
  public Happening visitDaemon(SentenceParser.DaemonContext daemon) {
    return new Happening.DaemonIs(daemon.way.getType() == SentenceParser.STARTED);
  }

  @Override
  public Happening visitFateOfTrain(SentenceParser.FateOfTrainContext train) {
    if (train.LIFTED() != null) {
      return of(train.name(), Happening.TrainIsLifted::new);
    }
    if (train.BRAKES() != null) {
      return of(train.name(), Happening.TrainLosesBrakes::new);
    }
    boolean obeys = train.way.getType() == SentenceParser.OBEYS;
    return new Happening.Engineer(Names.name(train.name()), obeys, place(train.name()));
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

  private static String upper(Token word) {
    return word.getText().toUpperCase(Locale.ROOT);
  }

  private static String lower(Token word) {
    return word.getText().toLowerCase(Locale.ROOT);
  }
}
