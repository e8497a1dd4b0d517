package tappet.sentence;

import java.util.Locale;
import java.util.Optional;
import org.antlr.v4.runtime.Token;
import org.antlr.v4.runtime.misc.ParseCancellationException;
import tappet.layout.Position;
import tappet.lcc.clock.ClockEvent;
import tappet.source.Place;
import tappet.source.Problems;

/** Turns the parser's tree into a command. */
final class CommandReader extends SentenceBaseVisitor<Command> {

  private final Place at;
  private final Problems problems;
  private final People people;

  CommandReader(Place at, Problems problems) {
    this.at = at;
    this.problems = problems;
    this.people = new People(at, problems);
  }

  @Override
  public Command visitCommandAlone(SentenceParser.CommandAloneContext sentence) {
    return visit(sentence.command());
  }

  @Override
  public Command visitLine(SentenceParser.LineContext line) {
    return visit(line.asked());
  }

  @Override
  public Command visitBetweenSignals(SentenceParser.BetweenSignalsContext line) {
    return ofRoute(line.from, line.to, Command.Line::new);
  }

  @Override
  public Command visitByRoute(SentenceParser.ByRouteContext line) {
    return new Command.LineRoute(Names.name(line.name()), Names.place(line.name(), at));
  }

  @Override
  public Command visitFleet(SentenceParser.FleetContext fleet) {
    return ofRoute(fleet.from, fleet.to, Command.Fleet::new);
  }

  @Override
  public Command visitCallOn(SentenceParser.CallOnContext callOn) {
    return ofRoute(callOn.from, callOn.to, Command.CallOn::new);
  }

  @Override
  public Command visitStack(SentenceParser.StackContext stack) {
    return ofRoute(stack.from, stack.to, Command.Stack::new);
  }

  /** Makes a command of a route's two ends and their places. */
  @FunctionalInterface
  private interface OfRoute {
    Command of(String from, String to, Place place, Place toPlace);
  }

  private Command ofRoute(
      SentenceParser.NameContext from, SentenceParser.NameContext to, OfRoute command) {
    return command.of(Names.name(from), Names.name(to), Names.place(from, at), Names.place(to, at));
  }

  @Override
  public Command visitUnfleet(SentenceParser.UnfleetContext unfleet) {
    return new Command.Unfleet(Names.name(unfleet.name()), Names.place(unfleet.name(), at));
  }

  @Override
  public Command visitUnstack(SentenceParser.UnstackContext unstack) {
    return new Command.Unstack(Names.name(unstack.name()), Names.place(unstack.name(), at));
  }

  @Override
  public Command visitSetTraffic(SentenceParser.SetTrafficContext set) {
    return new Command.SetTraffic(
        Names.name(set.name()),
        Command.Heading.valueOf(upper(set.heading)),
        Names.place(set.name(), at));
  }

  @Override
  public Command visitCancel(SentenceParser.CancelContext cancel) {
    return new Command.Cancel(Names.name(cancel.name()), Names.place(cancel.name(), at));
  }

  @Override
  public Command visitThrow(SentenceParser.ThrowContext order) {
    var toe = order.name(0);
    var position = Position.valueOf(upper(order.position));
    return order.holder == null
        ? new Command.Throw(Names.name(toe), position, Names.place(toe, at))
        : new Command.ThrowFor(
            Names.name(toe), position, people.holder(order.holder), Names.place(toe, at));
  }

  @Override
  public Command visitGrantPermit(SentenceParser.GrantPermitContext grant) {
    return new Command.GrantPermit(
        people.holder(grant.holder),
        grant.limits().name().stream().map(Names::name).distinct().toList(),
        people.reason(grant.reason()),
        Names.place(grant.holder, at));
  }

  @Override
  public Command visitReturnPermit(SentenceParser.ReturnPermitContext end) {
    return new Command.ReturnPermit(people.holder(end.holder), Names.place(end.holder, at));
  }

  @Override
  public Command visitBlock(SentenceParser.BlockContext block) {
    return new Command.Block(
        device(block.device()),
        Names.name(block.place),
        people.holder(block.holder),
        people.reason(block.reason()),
        Names.place(block.place, at));
  }

  @Override
  public Command visitUnblock(SentenceParser.UnblockContext end) {
    return new Command.Unblock(
        device(end.device()), Names.name(end.place), Names.place(end.place, at));
  }

  @Override
  public Command visitFlag(SentenceParser.FlagContext flag) {
    return new Command.Flag(
        Names.name(flag.place),
        people.holder(flag.holder),
        people.reason(flag.reason()),
        Names.place(flag.place, at));
  }

  @Override
  public Command visitUnflag(SentenceParser.UnflagContext end) {
    return new Command.Unflag(
        Names.name(end.place), people.holder(end.holder), Names.place(end.place, at));
  }

  @Override
  public Command visitConfirmProtections(SentenceParser.ConfirmProtectionsContext confirm) {
    return new Command.ConfirmProtections();
  }

  @Override
  public Command visitNameTrain(SentenceParser.NameTrainContext named) {
    return new Command.NameTrain(
        people.holder(named.train),
        Names.name(named.section),
        Names.place(named.train, at),
        Names.place(named.section, at));
  }

  @Override
  public Command visitDropName(SentenceParser.DropNameContext drop) {
    return new Command.DropName(Names.name(drop.train), Names.place(drop.train, at));
  }

  @Override
  public Command visitAcknowledge(SentenceParser.AcknowledgeContext seen) {
    return new Command.Acknowledge(Names.name(seen.alarm), Names.place(seen.alarm, at));
  }

  @Override
  public Command visitAsk(SentenceParser.AskContext ask) {
    return new Command.Ask(
        Names.name(ask.sentence), people.holder(ask.holder), Names.place(ask.sentence, at));
  }

  @Override
  public Command visitWithdraw(SentenceParser.WithdrawContext ask) {
    return new Command.Withdraw(Names.name(ask.number), Names.place(ask.number, at));
  }

  private static Protected.Device device(SentenceParser.DeviceContext device) {
    return Protected.Device.valueOf(upper(device.getStart()));
  }

  @Override
  public Command visitLock(SentenceParser.LockContext lock) {
    return new Command.Lock(Names.name(lock.name()), Names.place(lock.name(), at));
  }

  @Override
  public Command visitUnlock(SentenceParser.UnlockContext unlock) {
    return new Command.Unlock(Names.name(unlock.name()), Names.place(unlock.name(), at));
  }

  @Override
  public Command visitRelease(SentenceParser.ReleaseContext release) {
    return new Command.Release(
        Names.name(release.toe),
        Optional.ofNullable(release.holder).map(Names::name),
        Names.place(release.toe, at));
  }

  @Override
  public Command visitSecure(SentenceParser.SecureContext secure) {
    return new Command.Secure(Names.name(secure.name()), Names.place(secure.name(), at));
  }

  @Override
  public Command visitRun(SentenceParser.RunContext run) {
    var heading =
        Optional.ofNullable(run.heading).map(word -> Command.Heading.valueOf(upper(word)));
    return new Command.Run(Names.name(run.name()), heading, Names.place(run.name(), at));
  }

  @Override
  public Command visitHalt(SentenceParser.HaltContext halt) {
    return new Command.Halt(Names.name(halt.name()), Names.place(halt.name(), at));
  }

  @Override
  public Command visitPickUp(SentenceParser.PickUpContext order) {
    var heading =
        Optional.ofNullable(order.heading).map(word -> Command.Heading.valueOf(upper(word)));
    return new Command.PickUp(
        Names.name(order.cars),
        Names.name(order.train),
        heading,
        Names.place(order.cars, at),
        Names.place(order.train, at));
  }

  @Override
  public Command visitSetOut(SentenceParser.SetOutContext order) {
    return new Command.SetOut(
        new CarCount(at, problems).of(order.count, 1),
        Optional.ofNullable(order.end).map(word -> Command.End.valueOf(upper(word))),
        Names.name(order.train),
        people.holder(order.cars),
        Names.place(order.train, at),
        Names.place(order.cars, at));
  }

  @Override
  public Command visitStartClock(SentenceParser.StartClockContext start) {
    return new Command.StartClock();
  }

  @Override
  public Command visitStopClock(SentenceParser.StopClockContext stop) {
    return new Command.StopClock();
  }

  @Override
  public Command visitSetClock(SentenceParser.SetClockContext set) {
    return visit(set.setting());
  }

  @Override
  public Command visitClockTime(SentenceParser.ClockTimeContext setting) {
    return new Command.SetClock(ClockTexts.time(setting.TIME_OF_DAY().getText()).orElseThrow());
  }

  @Override
  public Command visitClockRate(SentenceParser.ClockRateContext setting) {
    return new Command.SetClock(rate(setting.getStop()));
  }

  /** What is wrong has been noted when this ends early. */
  private ClockEvent.Rate rate(Token word) {
    var place = Names.place(word, at);
    return ClockTexts.rate(word.getText(), (wrong, meant) -> problems.add(place, wrong, meant))
        .orElseThrow(ParseCancellationException::new);
  }

  private static String upper(Token word) {
    return word.getText().toUpperCase(Locale.ROOT);
  }
}
