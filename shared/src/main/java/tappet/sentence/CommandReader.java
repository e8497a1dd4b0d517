package tappet.sentence;

import java.util.Locale;
import java.util.Optional;
import org.antlr.v4.runtime.Token;
import tappet.layout.Position;
import tappet.source.Place;

/** Turns the parser's tree into a command. */
final class CommandReader extends SentenceBaseVisitor<Command> {

  private final Place at;

  CommandReader(Place at) {
    this.at = at;
  }

  @Override
  public Command visitCommandAlone(SentenceParser.CommandAloneContext sentence) {
    return visit(sentence.command());
  }

  @Override
  public Command visitLine(SentenceParser.LineContext line) {
    return new Command.Line(
        Names.name(line.from),
        Names.name(line.to),
        Names.place(line.from, at),
        Names.place(line.to, at));
  }

  @Override
  public Command visitCancel(SentenceParser.CancelContext cancel) {
    return new Command.Cancel(Names.name(cancel.name()), Names.place(cancel.name(), at));
  }

  @Override
  public Command visitThrow(SentenceParser.ThrowContext order) {
    return new Command.Throw(
        Names.name(order.name()),
        Position.valueOf(upper(order.position)),
        Names.place(order.name(), at));
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

  private static String upper(Token word) {
    return word.getText().toUpperCase(Locale.ROOT);
  }
}
