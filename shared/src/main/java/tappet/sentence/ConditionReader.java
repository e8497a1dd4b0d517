package tappet.sentence;

import java.util.List;
import java.util.Locale;
import java.util.function.Function;
import org.antlr.v4.runtime.Token;
import org.antlr.v4.runtime.tree.ParseTree;
import tappet.layout.LockState;
import tappet.layout.Position;
import tappet.source.Place;
import tappet.source.Problems;

/** Turns the parser's tree into a condition. */
final class ConditionReader extends SentenceBaseVisitor<Condition> {

  private final Place at;
  private final Problems problems;

  ConditionReader(Place at, Problems problems) {
    this.at = at;
    this.problems = problems;
  }

  @Override
  public Condition visitConditionAlone(SentenceParser.ConditionAloneContext sentence) {
    return visit(sentence.anyOf());
  }

  @Override
  public Condition visitAnyOf(SentenceParser.AnyOfContext any) {
    return joined(any.allOf(), Condition.Any::new);
  }

  @Override
  public Condition visitAllOf(SentenceParser.AllOfContext all) {
    return joined(all.part(), Condition.All::new);
  }

  @Override
  public Condition visitOpposite(SentenceParser.OppositeContext opposite) {
    return new Condition.Not(visit(opposite.part()));
  }

  @Override
  public Condition visitGroup(SentenceParser.GroupContext group) {
    return visit(group.anyOf());
  }

  @Override
  public Condition visitSingle(SentenceParser.SingleContext single) {
    return visit(single.fact());
  }

  @Override
  public Condition visitExpectationAlone(SentenceParser.ExpectationAloneContext sentence) {
    return visit(sentence.anyExpected());
  }

  @Override
  public Condition visitAnyExpected(SentenceParser.AnyExpectedContext any) {
    return joined(any.allExpected(), Condition.Any::new);
  }

  @Override
  public Condition visitAllExpected(SentenceParser.AllExpectedContext all) {
    return joined(all.expected(), Condition.All::new);
  }

  @Override
  public Condition visitOppositeExpected(SentenceParser.OppositeExpectedContext opposite) {
    return new Condition.Not(visit(opposite.expected()));
  }

  @Override
  public Condition visitGroupExpected(SentenceParser.GroupExpectedContext group) {
    return visit(group.anyExpected());
  }

  @Override
  public Condition visitFactExpected(SentenceParser.FactExpectedContext fact) {
    return visit(fact.fact());
  }

  @Override
  public Condition visitSeenExpected(SentenceParser.SeenExpectedContext seen) {
    return visit(seen.seen());
  }

  @Override
  public Condition visitTrain(SentenceParser.TrainContext fact) {
    String name = Names.name(fact.train);
    Place place = Names.place(fact.train, at);
    if (fact.signal != null) {
      return new Condition.TrainWaitsAt(
          name, Names.name(fact.signal), place, Names.place(fact.signal, at));
    }
    if (fact.carCount() != null) {
      int cars = new CarCount(at, problems).of(fact.carCount().getStart(), 0);
      return new Condition.TrainHas(name, cars, place);
    }
    return fact.does != null
        ? new Condition.TrainIs(name, Condition.TrainState.valueOf(upper(fact.does)), place)
        : sided(fact.NOT() != null, trainIs(fact.trainIs(), name, place));
  }

  private Condition trainIs(SentenceParser.TrainIsContext is, String train, Place place) {
    if (is.ON() != null) {
      return new Condition.TrainIsOn(
          train, Names.name(is.name()), place, Names.place(is.name(), at));
    }
    return new Condition.TrainIs(train, state(is), place);
  }

  private static Condition.TrainState state(SentenceParser.TrainIsContext is) {
    if (is.WRECKED() != null) {
      return Condition.TrainState.WRECKED;
    }
    return is.FOUL() != null ? Condition.TrainState.FOUL : Condition.TrainState.AT_END_OF_TRACK;
  }

  @Override
  public Condition visitLampIsLit(SentenceParser.LampIsLitContext fact) {
    return sided(
        fact.NOT() != null,
        new Condition.LampIsLit(Names.name(fact.name()), Names.place(fact.name(), at)));
  }

  @Override
  public Condition visitLockIs(SentenceParser.LockIsContext fact) {
    var state = LockState.valueOf(upper(fact.state));
    return sided(
        fact.NOT() != null,
        new Condition.LockIs(Names.name(fact.name()), state, Names.place(fact.name(), at)));
  }

  @Override
  public Condition visitAlarmStands(SentenceParser.AlarmStandsContext fact) {
    return new Condition.AlarmStands(Names.name(fact.name()), Names.place(fact.name(), at));
  }

  @Override
  public Condition visitSectionIs(SentenceParser.SectionIsContext fact) {
    boolean not = fact.NOT() != null;
    if (fact.guard() != null) {
      return isProtected(fact.name(), by(fact.guard()), not);
    }
    var occupancy = Condition.Occupancy.valueOf(upper(fact.occupancy));
    return sided(
        not,
        new Condition.SectionIs(Names.name(fact.name()), occupancy, Names.place(fact.name(), at)));
  }

  @Override
  public Condition visitSwitchIs(SentenceParser.SwitchIsContext fact) {
    boolean not = fact.NOT() != null;
    if (fact.BLOCKED() != null) {
      return isProtected(fact.name(), Protected.BLOCKED_SWITCH, not);
    }
    var position = Position.valueOf(upper(fact.position));
    return sided(
        not,
        new Condition.SwitchIs(Names.name(fact.name()), position, Names.place(fact.name(), at)));
  }

  @Override
  public Condition visitSignalIs(SentenceParser.SignalIsContext fact) {
    var signal = fact.name(0);
    boolean not = fact.NOT() != null;
    if (fact.BLOCKED() != null) {
      return isProtected(signal, Protected.BLOCKED_SIGNAL, not);
    }
    return sided(
        not,
        new Condition.SignalIs(
            Names.name(signal),
            Names.name(fact.aspect),
            Names.place(signal, at),
            Names.place(fact.aspect, at)));
  }

  @Override
  public Condition visitRouteIsLocked(SentenceParser.RouteIsLockedContext fact) {
    return sided(
        fact.NOT() != null,
        new Condition.RouteIsLocked(Names.name(fact.name()), Names.place(fact.name(), at)));
  }

  @Override
  public Condition visitTrafficIs(SentenceParser.TrafficIsContext fact) {
    var heading = Command.Heading.valueOf(upper(fact.heading));
    return sided(
        fact.NOT() != null,
        new Condition.TrafficIs(Names.name(fact.name()), heading, Names.place(fact.name(), at)));
  }

  @Override
  public Condition visitDistrictIsTripped(SentenceParser.DistrictIsTrippedContext fact) {
    return sided(
        fact.NOT() != null,
        new Condition.DistrictIsTripped(Names.name(fact.name()), Names.place(fact.name(), at)));
  }

  @Override
  public Condition visitOpeningIs(SentenceParser.OpeningIsContext fact) {
    var state = Condition.OpeningState.valueOf(upper(fact.state));
    return sided(
        fact.NOT() != null,
        new Condition.OpeningIs(Names.name(fact.name()), state, Names.place(fact.name(), at)));
  }

  @Override
  public Condition visitCrossingIsWarning(SentenceParser.CrossingIsWarningContext fact) {
    return sided(
        fact.NOT() != null,
        new Condition.CrossingIsWarning(Names.name(fact.name()), Names.place(fact.name(), at)));
  }

  @Override
  public Condition visitTimeIsBetween(SentenceParser.TimeIsBetweenContext fact) {
    return sided(
        fact.NOT() != null,
        new Condition.TimeIsBetween(
            minuteOfDay(fact.from), minuteOfDay(fact.to), Names.place(fact.from, at)));
  }

  private static int minuteOfDay(Token clock) {
    String[] parts = clock.getText().split(":", 2);
    return Integer.parseInt(parts[0]) * 60 + Integer.parseInt(parts[1]);
  }

  private Condition joined(
      List<? extends ParseTree> parts, Function<List<Condition>, Condition> joint) {
    var conditions = parts.stream().map(this::visit).toList();
    return conditions.size() == 1 ? conditions.get(0) : joint.apply(conditions);
  }

  private Condition isProtected(SentenceParser.NameContext device, Protected by, boolean not) {
    return sided(not, new Condition.IsProtected(Names.name(device), by, Names.place(device, at)));
  }

  private static Protected by(SentenceParser.GuardContext guard) {
    if (guard.PERMIT() != null) {
      return Protected.PERMIT;
    }
    return guard.FLAGGED() != null ? Protected.FLAG : Protected.BLOCKED_SECTION;
  }

  private static Condition sided(boolean not, Condition fact) {
    return not ? new Condition.Not(fact) : fact;
  }

  private static String upper(Token word) {
    return word.getText().toUpperCase(Locale.ROOT);
  }
}
