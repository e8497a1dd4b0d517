package tappet.network;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.params.provider.Arguments.arguments;
import static tappet.network.Expression.all;
import static tappet.network.Expression.always;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.never;
import static tappet.network.Expression.not;

import java.util.List;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Why something is as it is, as a printed tree: a reason stands under what follows from it. The
 * source is the package's own description.
 */
class ExplainerTest {

  /** A right-hand side for the signal. */
  private interface Rule extends Function<Track, Expression> {}

  static Stream<Arguments> explanations() {
    return Stream.of(
        row(
            "a false whole names the false parts only",
            track -> all(is(track.west), is(track.east), is(track.locked)),
            "west",
            """
            signal is at Stop
              section East is occupied
              route is not locked
            """),
        row(
            "a true whole names all its parts",
            track -> all(is(track.west), is(track.east)),
            "west east",
            """
            signal is clear
              section West is clear
              section East is clear
            """),
        row(
            "a true choice names the true parts only",
            track -> any(is(track.west), is(track.east), is(track.locked)),
            "east",
            """
            signal is clear
              section East is clear
            """),
        row(
            "of a false choice one part is enough: the first of equals",
            track -> any(is(track.west), is(track.east)),
            "",
            """
            signal is at Stop
              section West is occupied
            """),
        row(
            "of a false choice the part that lacks the least is named",
            track -> any(all(is(track.west), is(track.east)), is(track.locked)),
            "",
            """
            signal is at Stop
              route is not locked
            """),
        row(
            "what people look to last is no reason where the field could give one",
            track -> any(is(track.calledOn), all(is(track.west), is(track.east))),
            "",
            """
            signal is at Stop
              section West is occupied
              section East is occupied
            """),
        row(
            "what people look to last is named where nothing else would do",
            track -> all(is(track.west), any(is(track.calledOn), never())),
            "west",
            """
            signal is at Stop
              no train is called on
            """),
        row(
            "an alternative without words is passed over, however short",
            track -> any(is(track.silent), all(is(track.calledOn), is(track.east))),
            "",
            """
            signal is at Stop
              no train is called on
              section East is occupied
            """),
        row(
            "an alternative that can never be is passed over",
            track -> any(all(never(), is(track.west)), all(is(track.west), is(track.east))),
            "",
            """
            signal is at Stop
              section West is occupied
              section East is occupied
            """),
        row(
            "of a true choice one true part is enough: the one of the fewest facts",
            track -> any(all(is(track.west), is(track.east)), is(track.locked)),
            "west east locked",
            """
            signal is clear
              route is locked
            """),
        row(
            "a fact that several parts lack counts once",
            track ->
                any(all(is(track.east), is(track.locked)), all(is(track.locked), is(track.locked))),
            "west",
            """
            signal is at Stop
              route is not locked
            """),
        row(
            "an opposite tells the fact as it is",
            track -> all(not(track.west), not(track.east)),
            "west",
            """
            signal is at Stop
              section West is clear
            """),
        row(
            "of the opposite of a whole one part is enough to change it",
            track -> not(all(is(track.west), is(track.east))),
            "west east",
            """
            signal is at Stop
              section West is clear
            """),
        row(
            "the opposite of a whole names what makes it so",
            track -> not(all(is(track.west), is(track.east))),
            "west",
            """
            signal is clear
              section East is occupied
            """),
        row(
            "an opposite twice is none",
            track -> new Expression.Not(new Expression.Not(is(track.west))),
            "west",
            """
            signal is clear
              section West is clear
            """),
        row(
            "an alternative lacks what is true and should not be",
            track -> any(all(is(track.west), is(track.east)), all(is(track.west), not(track.east))),
            "east",
            """
            signal is at Stop
              section West is occupied
            """),
        row(
            "a reason is told once",
            track -> all(is(track.west), any(is(track.west), is(track.east)), is(track.west)),
            "",
            """
            signal is at Stop
              section West is occupied
            """),
        row("a constant needs no reason", track -> always(), "", "signal is clear\n"),
        row("nor does its opposite", track -> never(), "west", "signal is at Stop\n"),
        row(
            "a constant part that holds everything back has nothing to say",
            track -> all(never(), is(track.west)),
            "west",
            "signal is at Stop\n"),
        row(
            "a joining variable is not told, its reasons are",
            track -> all(is(track.joined), is(track.locked)),
            "west",
            """
            signal is at Stop
              section East is occupied
              route is not locked
            """),
        row(
            "a reason that has reasons is told with them",
            track -> all(is(track.available), is(track.west)),
            "west",
            """
            signal is at Stop
              route is not available
                section East is occupied
            """),
        row(
            "two reasons deep",
            track -> is(track.offered),
            "",
            """
            signal is at Stop
              route is not offered
                route is not available
                  section West is occupied
                  section East is occupied
                route is not locked
            """),
        row(
            "an opposite of a reason with reasons tells it as it is",
            track -> not(track.available),
            "west east",
            """
            signal is at Stop
              route is available
                section West is clear
            """),
        row(
            "a fact ends the explanation even where it has an equation",
            track -> all(is(track.fact), is(track.east)),
            "",
            """
            signal is at Stop
              bridge is open
              section East is occupied
            """),
        row(
            "a latch is a fact of its own",
            track -> is(track.latch),
            "",
            """
            signal is at Stop
              train has not been accepted
            """),
        row(
            "a latch tells what it remembers",
            track -> not(track.latch),
            "locked",
            """
            signal is at Stop
              train has been accepted
            """));
  }

  private static Arguments row(String name, Rule rule, String on, String expected) {
    return arguments(name, rule, on, expected);
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("explanations")
  void signalIsExplainedFromItsEquation(String name, Rule rule, String on, String expected) {
    Track track = new Track(rule);
    track.turnOn(on);
    Explainer explainer = new Explainer(track.stepper);

    assertEquals(expected, print(explainer.explain(track.signal), ""));
    assertEquals(
        expected
            .lines()
            .skip(1)
            .map(line -> line.substring(2) + "\n")
            .collect(Collectors.joining()),
        printAll(explainer.reasonsOf(track.signal), ""));
  }

  // A lock that is wanted free: all that holds it, not one thing that is enough to.
  @Test
  void whatKeepsATrueChoiceIsAllThatIsTrueOfIt() {
    Track track = new Track(it -> any(is(it.west), is(it.east), is(it.locked)));
    track.turnOn("west locked");
    Explainer explainer = new Explainer(track.stepper);
    assertEquals("section West is clear\n", printAll(explainer.reasonsOf(track.signal), ""));
    assertEquals(
        "section West is clear\nroute is locked\n",
        printAll(explainer.whatKeeps(track.signal), ""));
  }

  @Test
  void factHasNoReasons() {
    Track track = new Track(it -> is(it.west));
    assertEquals(List.of(), new Explainer(track.stepper).reasonsOf(track.latch));
    assertEquals(List.of(), new Explainer(track.stepper).whatKeeps(track.west));
  }

  private static String print(Explanation explanation, String indent) {
    return indent + explanation.clause() + "\n" + printAll(explanation.because(), indent + "  ");
  }

  private static String printAll(List<Explanation> explanations, String indent) {
    return explanations.stream()
        .map(explanation -> print(explanation, indent))
        .collect(Collectors.joining());
  }

  /** A little track: two sections, a lock, and a signal with the rule under test. */
  private static final class Track {

    private final NetworkBuilder builder = new NetworkBuilder();
    private final Variable west =
        builder.input("west", Words.fact("section West is clear", "section West is occupied"));
    private final Variable east =
        builder.input("east", Words.fact("section East is clear", "section East is occupied"));
    private final Variable locked =
        builder.input("locked", Words.fact("route is locked", "route is not locked"));
    private final Variable joined =
        builder.equation("joined", Words.through(), all(is(west), is(east)));
    private final Variable available =
        builder.equation(
            "available", Words.because("route is available", "route is not available"), is(joined));
    private final Variable offered =
        builder.equation(
            "offered",
            Words.because("route is offered", "route is not offered"),
            all(is(available), is(locked)));
    private final Variable fact =
        builder.equation("fact", Words.fact("bridge is closed", "bridge is open"), is(west));
    private final Variable latch =
        builder.latch(
            "latch", Words.because("train has been accepted", "train has not been accepted"));
    private final Variable calledOn =
        builder.input("called on", Words.last("a train is called on", "no train is called on"));
    private final Variable silent = builder.pulse("silent", Words.through());
    private final Variable signal;
    private final Stepper stepper;

    Track(Rule rule) {
      builder.define(latch, is(locked), never());
      signal =
          builder.equation(
              "signal", Words.because("signal is clear", "signal is at Stop"), rule.apply(this));
      stepper = new Stepper(builder.build());
    }

    void turnOn(String names) {
      Stream.of(names.split(" "))
          .filter(name -> !name.isEmpty())
          .forEach(name -> stepper.set(stepper.network().named(name), true));
      stepper.step((variable, value) -> {});
    }
  }
}
