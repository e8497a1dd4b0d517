package tappet.bridge.box;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import tappet.interlocking.Interlocking;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.layout.Position;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.Message;
import tappet.lcc.NodeId;
import tappet.network.Expression;
import tappet.network.Network;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.ControlTable;
import tappet.rules.RuleReader;
import tappet.source.Problems;

/** What the boards of the plain Ambrose Valley Line say, as frames. */
final class DemoField {

  static final NodeId DAEMON = NodeId.of("0A.57.00.00.00.01");

  private static final Path DEMO = Path.of("..", "shared", "src", "test", "resources", "plain");
  private static final int BOARD_ALIAS = 0x123;

  private static final Layout LAYOUT =
      withoutBoards(
          LayoutReader.read("layout.yaml", text("layout.yaml"), new Problems()).orElseThrow());

  private DemoField() {}

  /** One node speaks for all devices here, so that no board could be watched. */
  private static Layout withoutBoards(Layout layout) {
    return new Layout(
        layout.file(),
        layout.name(),
        layout.joints(),
        layout.sections(),
        layout.switches(),
        layout.signals());
  }

  /**
   * Starts a box and lets it hear all clear; the time since its start has run then.
   *
   * @return the time by then
   */
  static long makeReady(SignalBox box, String cable, long startNs) {
    box.start(startNs);
    box.connectionUp(cable, true, startNs);
    long heardNs = pass(box, startNs, 1);
    allClear().forEach(frame -> box.frameArrived(cable, frame, heardNs));
    return pass(box, heardNs, 11);
  }

  /**
   * Lets a box do all that is due within so many seconds, each thing when it is.
   *
   * @return the time by then
   */
  static long pass(SignalBox box, long fromNs, int seconds) {
    long nowNs = fromNs;
    long endNs = nowNs + TimeUnit.SECONDS.toNanos(seconds);
    while (nowNs < endNs) {
      nowNs = Math.min(endNs, Math.max(nowNs + 1, box.deadlineNs().orElse(endNs)));
      box.advance(nowNs);
    }
    return nowNs;
  }

  static Interlocking interlocking() {
    return interlocking("");
  }

  /** The demo's, with more rules at the end of the rule file. */
  static Interlocking interlocking(String more) {
    String rules = text("rules.yaml") + more;
    return new Interlocking(
        LAYOUT, RuleReader.read("rules.yaml", rules, LAYOUT, new Problems()).orElseThrow());
  }

  /** The demo's, of which one event is another one. */
  static Interlocking rewired(String event, String otherEvent) {
    String changed = text("layout.yaml").replace(event, otherEvent);
    Layout layout =
        withoutBoards(LayoutReader.read("layout.yaml", changed, new Problems()).orElseThrow());
    return new Interlocking(
        layout,
        RuleReader.read("rules.yaml", text("rules.yaml"), layout, new Problems()).orElseThrow());
  }

  /** The demo's, in which nothing detects a switch, with these boards and no others. */
  static Interlocking undetected(String toe, String assumedAfter, String boards) {
    String text = text("layout.yaml");
    String changed =
        text.substring(0, text.indexOf("\nboards:"))
                .replaceFirst("(?s)(\n  " + toe + ":\n.*?)at: \\{[^}]*\\}", "$1" + assumedAfter)
            + "\n"
            + boards;
    Layout layout = LayoutReader.read("layout.yaml", changed, new Problems()).orElseThrow();
    return new Interlocking(
        layout,
        RuleReader.read("rules.yaml", text("rules.yaml"), layout, new Problems()).orElseThrow());
  }

  /** The demo's, which swings without end as soon as a section is known to be occupied. */
  static Interlocking swingingWhenOccupied(String section) {
    ControlTable table =
        RuleReader.read("rules.yaml", text("rules.yaml"), LAYOUT, new Problems()).orElseThrow();
    return new Interlocking(
        LAYOUT, table, network -> swinging(network, section), (variable, value) -> {});
  }

  private static Network swinging(Network network, String section) {
    NetworkBuilder more = NetworkBuilder.extending(network);
    Variable swings = more.latch("test: swings", Words.through());
    Expression occupied = Expression.is(network.named("section " + section + ": occupied"));
    more.define(
        swings,
        Expression.all(occupied, Expression.not(swings)),
        Expression.all(occupied, Expression.is(swings)));
    return more.build();
  }

  private static String text(String file) {
    try {
      return Files.readString(DEMO.resolve(file));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Every section is clear and every switch lies normal. */
  static List<CanFrame> allClear() {
    List<CanFrame> frames = new ArrayList<>();
    LAYOUT.sections().values().forEach(section -> frames.add(report(section.clear())));
    LAYOUT.switches().values().forEach(toe -> frames.add(report(toe.at().get(Position.NORMAL))));
    return frames;
  }

  static CanFrame clear(String section) {
    return report(LAYOUT.sections().get(section).clear());
  }

  static CanFrame occupied(String section) {
    return report(LAYOUT.sections().get(section).occupied());
  }

  /** Whether a frame tells a signal to show this. */
  static boolean shows(CanFrame frame, String signal, String aspect) {
    return isReport(frame) && frame.data() == event(signal, aspect).value();
  }

  static List<String> signals() {
    return List.copyOf(LAYOUT.signals().keySet());
  }

  static EventId event(String signal, String aspect) {
    return LAYOUT.signals().get(signal).shows().get(aspect);
  }

  private static boolean isReport(CanFrame frame) {
    return tappet.lcc.Messages.decode(frame) instanceof Message.EventReport;
  }

  private static CanFrame report(EventId event) {
    return new Message.EventReport(BOARD_ALIAS, event).encode();
  }
}
