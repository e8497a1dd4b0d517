package tappet.sentence;

import static java.util.Map.entry;

import java.util.List;
import java.util.Map;
import org.antlr.v4.runtime.BailErrorStrategy;
import org.antlr.v4.runtime.Parser;
import org.antlr.v4.runtime.ParserRuleContext;
import org.antlr.v4.runtime.RecognitionException;
import org.antlr.v4.runtime.Token;
import org.antlr.v4.runtime.Vocabulary;
import org.antlr.v4.runtime.misc.Interval;
import org.antlr.v4.runtime.misc.IntervalSet;
import org.antlr.v4.runtime.tree.ParseTree;
import tappet.source.NearNames;
import tappet.source.Place;
import tappet.source.Problem;
import tappet.source.Problems;

/**
 * Says in trade words what does not fit in a sentence, and stops: what follows would be a guess.
 */
final class FirstMistake extends BailErrorStrategy {

  private static final Map<Integer, String> EXAMPLES =
      Map.ofEntries(
          entry(SentenceParser.SECTION, "section tilling-w is clear"),
          entry(SentenceParser.SWITCH, "switch t1 is normal"),
          entry(SentenceParser.SIGNAL, "signal t2e is approach"),
          entry(SentenceParser.ROUTE, "route t2e-t4e is locked"),
          entry(SentenceParser.DISTRICT, "district west is tripped"),
          entry(SentenceParser.OPENING, "opening doorway is closed"),
          entry(SentenceParser.GRADE, "grade crossing mill-road is warning"),
          entry(SentenceParser.TIME, "time is between 06:00 and 22:00"),
          entry(SentenceParser.LINE, "line t2e to t4e"),
          entry(SentenceParser.FLEET, "fleet t2e to t4e"),
          entry(SentenceParser.UNFLEET, "unfleet t2e"),
          entry(SentenceParser.CALL, "call on t2e to t4e"),
          entry(SentenceParser.STACK, "stack t2e to t4e"),
          entry(SentenceParser.UNSTACK, "unstack t2e"),
          entry(SentenceParser.TRAFFIC, "traffic midway is east"),
          entry(SentenceParser.CANCEL, "cancel t2e"),
          entry(SentenceParser.THROW, "throw t1 reverse"),
          entry(SentenceParser.LOCK, "lock doorway"),
          entry(SentenceParser.UNLOCK, "unlock doorway"),
          entry(SentenceParser.RELEASE, "release quarry to 'Extra 41'"),
          entry(SentenceParser.SECURE, "secure quarry"),
          entry(SentenceParser.RUN, "run 'Extra 41' east"),
          entry(SentenceParser.HALT, "halt 'Extra 41'"),
          entry(SentenceParser.PICK, "pick up Reefers with 'Extra 41'"),
          entry(SentenceParser.OUT, "set out 3 cars of 'Extra 41' as Reefers"),
          entry(SentenceParser.START, "start clock"),
          entry(SentenceParser.STOP, "stop clock"),
          entry(SentenceParser.SET, "set clock to 06:30"),
          entry(SentenceParser.RATE, "set clock rate to 4"),
          entry(SentenceParser.GRANT, "grant permit to 'Way Freight' on mill-branch, yard-lead"),
          entry(SentenceParser.RETURN, "return permit of 'Way Freight'"),
          entry(SentenceParser.BLOCK, "block signal t2e for 'Section crew' because 'rail work'"),
          entry(SentenceParser.UNBLOCK, "unblock signal t2e"),
          entry(SentenceParser.FLAG, "flag creamery by 'Plant crew'"),
          entry(SentenceParser.UNFLAG, "unflag creamery by 'Plant crew'"),
          entry(SentenceParser.CONFIRM, "confirm protections"));

  private static final Map<Integer, String> HAPPENINGS =
      Map.ofEntries(
          entry(SentenceParser.SECTION, "section tilling-w reports clear"),
          entry(SentenceParser.SWITCH, "switch t1 reports nothing"),
          entry(SentenceParser.LOCK, "lock of q1 reports released"),
          entry(SentenceParser.OPENING, "opening doorway is opened"),
          entry(SentenceParser.BOLT, "bolt of doorway sticks"),
          entry(SentenceParser.BREAKER, "breaker of west trips"),
          entry(SentenceParser.SPOT, "spot fallow-spot reports passed"),
          entry(SentenceParser.MOTOR, "motor of t1 takes 6 s"),
          entry(SentenceParser.LAMP, "lamp top-green of t2e burns out"),
          entry(SentenceParser.BOARD, "board tilling falls silent"),
          entry(SentenceParser.ALIAS, "alias of tilling clashes"),
          entry(SentenceParser.CREW, "crew throws q1 reverse"),
          entry(SentenceParser.BUTTON, "button quarry-call is pressed"),
          entry(SentenceParser.CABLE, "cable is pulled"),
          entry(SentenceParser.DAEMON, "daemon is stopped"),
          entry(SentenceParser.TRAIN, "train 'Extra 41' is lifted"),
          entry(SentenceParser.EMERGENCY, "emergency stop is called"));

  private static final Map<Integer, String> SEEN =
      Map.of(
          SentenceParser.TRAIN, "train 'Extra 41' waits at t2e",
          SentenceParser.LAMP, "lamp quarry-red is lit",
          SentenceParser.LOCK, "lock of q1 is secured",
          SentenceParser.ALARM, "alarm 'is tripped' stands");

  private final Place at;
  private final Problems problems;

  FirstMistake(Place at, Problems problems) {
    this.at = at;
    this.problems = problems;
  }

  @Override
  public void recover(Parser parser, RecognitionException mistake) {
    problems.add(new Stop(parser).problem());
    super.recover(parser, mistake);
  }

  @Override
  public Token recoverInline(Parser parser) {
    problems.add(new Stop(parser).problem());
    return super.recoverInline(parser);
  }

  /** Where the parser stopped: the word that does not fit, and those that would have. */
  private final class Stop {

    private final Token word;
    private final IntervalSet fitting;
    private final ParserRuleContext within;
    private final Token last;
    private final ParserRuleContext opened;
    private final Vocabulary vocabulary;

    Stop(Parser parser) {
      this.word = parser.getCurrentToken();
      this.last = parser.getInputStream().LT(-1);
      this.opened = parser.getContext();
      this.vocabulary = parser.getVocabulary();
      this.fitting = parser.getExpectedTokens();
      this.within = sentencePart(parser.getContext());
    }

    Problem problem() {
      if (word.getType() == SentenceParser.UNCLOSED) {
        var quote = word.getText().substring(0, 1);
        return here("this quote is never closed", "add %s at the end of the name".formatted(quote));
      }
      if (fits(SentenceParser.NUMBER) && within instanceof SentenceParser.HappeningContext) {
        return here("a time with its unit is missing after '%s'".formatted(before()), example());
      }
      if (fits(SentenceParser.NUMBER) && isOfCars()) {
        return here("a number of cars is missing after '%s'".formatted(before()), example());
      }
      if (fits(SentenceParser.NUMBER)) {
        return here("a rate is missing after '%s'".formatted(before()), example());
      }
      if (fits(SentenceParser.WORD)) {
        return name();
      }
      if (fits(SentenceParser.TIME_OF_DAY)) {
        return here("a time of day is missing after '%s'".formatted(before()), example());
      }
      if (fits(SentenceParser.LINE)) {
        return start("command", EXAMPLES.get(SentenceParser.LINE));
      }
      if (fits(SentenceParser.CREW)) {
        return start("happening", HAPPENINGS.get(SentenceParser.SECTION));
      }
      if (fits(SentenceParser.SECTION) && !isCommand()) {
        return start("condition", EXAMPLES.get(SentenceParser.SECTION));
      }
      return fits(Token.EOF) || fits(SentenceParser.CLOSE) ? surplus() : wordOfTheLanguage();
    }

    private Problem start(String what, String example) {
      if (!ended()) {
        return here("%s starts no %s".formatted(shown(), what), meantWord());
      }
      var missing =
          last == null
              ? "there is no %s here".formatted(what)
              : "a %s is missing after '%s'".formatted(what, last.getText());
      return here(missing, "write for example: " + example);
    }

    private Problem name() {
      if (word.getType() == SentenceParser.ODD) {
        return here(
            "%s cannot be a name".formatted(shown()),
            "names have letters, digits and hyphens; others stand in quotes");
      }
      boolean behindIs =
          last.getType() == SentenceParser.IS || last.getType() == SentenceParser.NOT;
      boolean behindBecause = last.getType() == SentenceParser.BECAUSE;
      var what = behindIs ? "an aspect" : behindBecause ? "a reason" : "a name";
      return here("%s is missing after '%s'".formatted(what, before()), example());
    }

    private Problem wordOfTheLanguage() {
      var near = NearNames.nearest(word.getText(), words());
      if (!ended() && near.isPresent()) {
        return here(
            "%s does not fit here".formatted(shown()), "did you mean '%s'?".formatted(near.get()));
      }
      var fit = words().stream().filter(text -> !text.equals("not")).toList();
      if (ended() || fit.size() == 1) {
        return here("%s is missing after '%s'".formatted(oneOf(fit), before()), example());
      }
      return here("%s does not fit after '%s'".formatted(shown(), before()), "write " + oneOf(fit));
    }

    private Problem surplus() {
      if (word.getType() == SentenceParser.CLOSE) {
        return here("this ')' closes nothing", "remove it");
      }
      if (ended()) {
        return new Problem(
            Names.place(opened.getStart(), at), "this '(' is never closed", "add ')'");
      }
      var wrong = "%s does not fit after '%s'".formatted(shown(), before());
      return NearNames.nearest(word.getText(), continuations())
          .map(meant -> here(wrong, "did you mean '%s'?".formatted(meant)))
          .orElseGet(
              () -> here(wrong, isCondition() ? "join conditions with 'and' or 'or'" : example()));
    }

    private Problem here(String wrong, String meant) {
      return new Problem(Names.place(word, at), wrong, meant);
    }

    private String example() {
      boolean ofRate =
          within instanceof SentenceParser.SetClockContext set
              && set.setting() instanceof SentenceParser.ClockRateContext;
      int type = ofRate ? SentenceParser.RATE : within.getStart().getType();
      type = within instanceof SentenceParser.SetOutContext ? SentenceParser.OUT : type;
      return "write for example: " + examples().get(type);
    }

    private boolean isOfCars() {
      return within instanceof SentenceParser.SetOutContext
          || within instanceof SentenceParser.SeenContext;
    }

    private Map<Integer, String> examples() {
      if (within instanceof SentenceParser.HappeningContext) {
        return HAPPENINGS;
      }
      return within instanceof SentenceParser.SeenContext ? SEEN : EXAMPLES;
    }

    private String meantWord() {
      return NearNames.nearest(word.getText(), words())
          .map("did you mean '%s'?"::formatted)
          .orElseGet(() -> "start it with " + oneOf(words()));
    }

    private List<String> continuations() {
      if (isCondition()) {
        return List.of("and", "or");
      }
      boolean holderMayFollow =
          within instanceof SentenceParser.ReleaseContext release && release.holder == null;
      if (holderMayFollow) {
        return List.of("to");
      }
      boolean headingMayFollow =
          (within instanceof SentenceParser.RunContext run && run.heading == null)
              || (within instanceof SentenceParser.PickUpContext order && order.heading == null);
      return headingMayFollow ? List.of("east", "west") : List.of();
    }

    private boolean isCondition() {
      return !isCommand() && !(within instanceof SentenceParser.HappeningContext);
    }

    private boolean isCommand() {
      return within instanceof SentenceParser.CommandContext;
    }

    private boolean ended() {
      return word.getType() == Token.EOF;
    }

    private boolean fits(int type) {
      return fitting.contains(type);
    }

    private String shown() {
      return word.getText().startsWith("'") ? word.getText() : "'" + word.getText() + "'";
    }

    /** What was understood of this part of the sentence, as it was written. */
    private String before() {
      int from = within.getStart().getStartIndex();
      return last == null || from > last.getStopIndex()
          ? ""
          : word.getInputStream().getText(Interval.of(from, last.getStopIndex()));
    }

    /** The words of the language that would have fitted. */
    private List<String> words() {
      return fitting.toList().stream()
          .filter(type -> type != Token.EOF)
          .map(type -> vocabulary.getLiteralName(type).replace("'", ""))
          .toList();
    }
  }

  private static String oneOf(List<String> words) {
    return NearNames.oneOf(words.stream().map("'%s'"::formatted).toList());
  }

  /** The fact or command that the parser is in, or else the part it has just left. */
  private static ParserRuleContext sentencePart(ParserRuleContext stopped) {
    for (var outer = stopped; outer != null; outer = outer.getParent()) {
      if (isFactOrCommand(outer)) {
        return outer;
      }
    }
    var part = stopped;
    while (!isFactOrCommand(part) && lastChild(part) instanceof ParserRuleContext child) {
      part = child;
    }
    return part;
  }

  private static boolean isFactOrCommand(ParserRuleContext part) {
    return part instanceof SentenceParser.FactContext
        || part instanceof SentenceParser.SeenContext
        || part instanceof SentenceParser.HappeningContext
        || part instanceof SentenceParser.CommandContext;
  }

  private static ParseTree lastChild(ParserRuleContext part) {
    return part.getChild(part.getChildCount() - 1);
  }
}
