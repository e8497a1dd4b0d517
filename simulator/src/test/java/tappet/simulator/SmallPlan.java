package tappet.simulator;

import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.layout.Diamond;
import tappet.layout.Joint;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.layout.Section;
import tappet.layout.Signal;
import tappet.layout.SignalKind;
import tappet.layout.Switch;
import tappet.layout.TrackPlan;
import tappet.lcc.EventId;
import tappet.source.Place;

/** Draws track plans of a few sections. Joints appear as they are named; x is 10 a step. */
final class SmallPlan {

  private static final Place HERE = Place.inText("small plan", 1);

  private final Map<String, Joint> joints = new LinkedHashMap<>();
  private final Map<String, Section> sections = new LinkedHashMap<>();
  private final Map<String, Switch> switches = new LinkedHashMap<>();
  private final Map<String, Signal> signals = new LinkedHashMap<>();
  private final Map<String, Diamond> diamonds = new LinkedHashMap<>();
  private long events = 0x0A57_0000_0B00_0000L;

  /** Sections one after the other from west to east: s1 between j0 and j1, s2 behind it. */
  static SmallPlan straight(double... metres) {
    var plan = new SmallPlan();
    plan.joint("j0", 0, 0);
    for (int i = 1; i <= metres.length; i++) {
      plan.joint("j" + i, 10 * i, 0).section("s" + i, "j" + (i - 1), "j" + i, metres[i - 1]);
    }
    return plan;
  }

  /**
   * The end of a passing siding.
   *
   * <pre>
   *                 e      .-- j2 w1 ---- main ---- main-end
   *   west-end --- west -- j1 [os]
   *                        '-- j3 w2 ---- siding -- siding-end
   * </pre>
   */
  static SmallPlan junction() {
    return new SmallPlan()
        .joint("west-end", 0, 2)
        .joint("j1", 10, 2)
        .joint("j2", 12, 2)
        .joint("j3", 12, 1)
        .joint("main-end", 22, 2)
        .joint("siding-end", 22, 1)
        .section("west", "west-end", "j1", 3)
        .switchSection("os", 0.6)
        .section("main", "j2", "main-end", 3)
        .section("siding", "j3", "siding-end", 3)
        .toe("t", "os", "j1", "j2", "j3")
        .signal("e", "j1", "os")
        .signal("w1", "j2", "os")
        .signal("w2", "j3", "os");
  }

  /**
   * Two lines that cross at grade, both from west to east.
   *
   * <pre>
   *   north ── n1 .   . j2 ── east
   *                [x]
   *    west ── j1 '   ' n2 ── south
   * </pre>
   */
  static SmallPlan crossing() {
    return new SmallPlan()
        .joint("j0", 0, 0)
        .joint("j1", 10, 0)
        .joint("j2", 12, 2)
        .joint("j3", 22, 2)
        .joint("n0", 0, 2)
        .joint("n1", 10, 2)
        .joint("n2", 12, 0)
        .joint("n3", 22, 0)
        .section("west", "j0", "j1", 2)
        .section("east", "j2", "j3", 2)
        .section("north", "n0", "n1", 2)
        .section("south", "n2", "n3", 2)
        .switchSection("x", 0.2)
        .diamond("x1", "x", List.of(List.of("j1", "j2"), List.of("n1", "n2")));
  }

  SmallPlan joint(String id, double x, double y) {
    joints.put(id, new Joint(id, x, y, HERE));
    return this;
  }

  SmallPlan section(String id, String from, String to, double metres) {
    return section(id, List.of(from, to), metres);
  }

  SmallPlan switchSection(String id, double metres) {
    return section(id, List.of(), metres);
  }

  private SmallPlan section(String id, List<String> between, double metres) {
    sections.put(id, new Section(id, id, between, metres, event(), event(), HERE));
    return this;
  }

  SmallPlan toe(String id, String section, String points, String normal, String reverse) {
    switches.put(
        id,
        new Switch(
            id, id, section, points, normal, reverse, pair(), pair(), Duration.ofSeconds(4), HERE));
    return this;
  }

  SmallPlan diamond(String id, String section, List<List<String>> tracks) {
    diamonds.put(id, new Diamond(id, id, section, tracks, HERE));
    return this;
  }

  SmallPlan signal(String id, String at, String into) {
    return signal(id, at, into, SignalKind.ABSOLUTE);
  }

  SmallPlan signal(String id, String at, String into, SignalKind kind) {
    var shows = new LinkedHashMap<String, EventId>();
    List.of("stop", "approach", "clear", "diverging-clear").forEach(a -> shows.put(a, event()));
    signals.put(
        id,
        new Signal(
            id,
            id,
            at,
            into,
            kind,
            List.of(),
            shows,
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            HERE));
    return this;
  }

  TrackPlan plan() {
    return new TrackPlan(
        new Layout("small plan", "Small plan", joints, sections, switches, signals)
            .crossedBy(diamonds));
  }

  /** What follows belongs to this board. */
  SmallPlan board(int number) {
    events = (0x0A57_0000_0B00L + number) << 16;
    return this;
  }

  private Map<Position, EventId> pair() {
    var pair = new LinkedHashMap<Position, EventId>();
    pair.put(Position.NORMAL, event());
    pair.put(Position.REVERSE, event());
    return pair;
  }

  private EventId event() {
    return new EventId(events++);
  }
}
