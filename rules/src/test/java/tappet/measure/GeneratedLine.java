package tappet.measure;

import java.util.function.IntFunction;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.rules.ControlTable;
import tappet.rules.RuleReader;
import tappet.source.Problems;

/**
 * A railroad of any size, written as an owner would write it: groups of stations, joined end to
 * end.
 *
 * <p>Each group has the shape of the demo's line, five control points from west to east: a staging
 * yard of two tracks, a passing siding, an intermediate signal, a junction and a yard. Where a
 * group ends and the next begins two signals stand back to back, so that trains can run from one
 * end of the line to the other. Names end in the number of their group, from 0. The shape depends
 * on nothing but the number of groups.
 *
 * <pre>
 *   f-0 ---.              .-- main --.                 .--- mill                 .-- main --.
 *           >-- west -- -<            >-- mid -- -- --<---- main -- f-1 --> west <            > ...
 *   f-0 ---'              '- siding -'                 '--- yard          f-1 --'
 * </pre>
 */
public final class GeneratedLine {

  /** Control points of one group. */
  public static final int CONTROL_POINTS_EACH = 5;

  private static final String JOINTS =
      """
        fallow-2-end-N: [X0, 1]
        j1-N: [X6, 2]
        j2-N: [X6, 1]
        j3-N: [X8, 2]
        j4-N: [X14, 2]
        j5-N: [X16, 2]
        j6-N: [X16, 1]
        j7-N: [X22, 2]
        j8-N: [X22, 1]
        j9-N: [X24, 2]
        j10-N: [X29, 2]
        j11-N: [X34, 2]
        k1-N: [X35, 2]
        j12-N: [X37, 1]
        j13-N: [X37, 2]
        j14-N: [X37, 3]
        corvane-end-N: [X44, 2]
        mill-end-N: [X44, 3]
        j15-N: [X41, 1]
        k2-N: [X42, 1]
        yard-1-N: [X44, 0]
        yard-2-N: [X46, 0]
        yard-3-N: [X48, 1]
      """;

  private static final String SECTIONS =
      """
        fallow-1-N: {between: [WESTEND, j1-N], length: 3 m, DETECTOR 01.11}
        fallow-2-N: {between: [fallow-2-end-N, j2-N], length: 3 m, DETECTOR 01.12}
        fallow-os-N: {length: 80 cm, DETECTOR 01.13}
        west-main-N: {between: [j3-N, j4-N], length: 3.2 m, DETECTOR 01.14}
        tilling-w-N: {length: 60 cm, DETECTOR 02.11}
        tilling-main-N: {between: [j5-N, j7-N], length: 2.6 m, DETECTOR 02.12}
        tilling-siding-N: {between: [j6-N, j8-N], length: 2.6 m, DETECTOR 02.13}
        tilling-e-N: {length: 60 cm, DETECTOR 02.14}
        mid-west-N: {between: [j9-N, j10-N], length: 2.8 m, DETECTOR 03.11}
        mid-east-N: {between: [j10-N, j11-N], length: 2.8 m, DETECTOR 03.12}
        corvane-w-N: {length: 90 cm, DETECTOR 04.11}
        corvane-main-N: {between: [j13-N, corvane-end-N], length: 3 m, DETECTOR 04.12}
        mill-branch-N: {between: [j14-N, mill-end-N], length: 2.8 m, DETECTOR 04.13}
        yard-lead-N: {between: [j12-N, j15-N], length: 2.2 m, DETECTOR 04.14}
        yard-throat-N: {length: 1.8 m, DETECTOR 05.11}
      """;

  private static final String SWITCHES =
      """
        s1-N: {section: fallow-os-N, points: j3-N, normal: j1-N, reverse: j2-N, MACHINE 01.21}
        t1-N: {section: tilling-w-N, points: j4-N, normal: j5-N, reverse: j6-N, MACHINE 02.21}
        t2-N: {section: tilling-e-N, points: j9-N, normal: j7-N, reverse: j8-N, MACHINE 02.22}
        c1-N: {section: corvane-w-N, points: j11-N, normal: k1-N, reverse: j12-N, MACHINE 04.21}
        c2-N: {section: corvane-w-N, points: k1-N, normal: j13-N, reverse: j14-N, MACHINE 04.22}
        y1-N: {section: yard-throat-N, points: j15-N, normal: k2-N, reverse: yard-1-N, MACHINE 05.21}
        y2-N: {section: yard-throat-N, points: k2-N, normal: yard-3-N, reverse: yard-2-N, MACHINE 05.22}
      """;

  private static final String SIGNALS =
      """
        f2e-N: {at: j1-N, into: fallow-os-N, shows: {MAIN-ASPECTS 01.41}}
        f4e-N: {at: j2-N, into: fallow-os-N, shows: {DIVERGING-ASPECTS 01.42}}
        f6w-N: {at: j3-N, into: fallow-os-N, shows: {ALL-ASPECTS 01.43}}
        t2e-N: {at: j4-N, into: tilling-w-N, shows: {ALL-ASPECTS 02.41}}
        t4e-N: {at: j7-N, into: tilling-e-N, shows: {MAIN-ASPECTS 02.42}}
        t6e-N: {at: j8-N, into: tilling-e-N, shows: {DIVERGING-ASPECTS 02.43}}
        t4w-N: {at: j5-N, into: tilling-w-N, shows: {MAIN-ASPECTS 02.44}}
        t6w-N: {at: j6-N, into: tilling-w-N, shows: {DIVERGING-ASPECTS 02.45}}
        t8w-N: {at: j9-N, into: tilling-e-N, shows: {ALL-ASPECTS 02.46}}
        m2e-N: {at: j10-N, into: mid-east-N, shows: {MAIN-ASPECTS 03.41}}
        m2w-N: {at: j10-N, into: mid-west-N, shows: {MAIN-ASPECTS 03.42}}
        c2e-N: {at: j11-N, into: corvane-w-N, shows: {ALL-ASPECTS 04.41}}
        c4w-N: {at: j13-N, into: corvane-w-N, shows: {MAIN-ASPECTS 04.42}}
        c6w-N: {at: j14-N, into: corvane-w-N, shows: {DIVERGING-ASPECTS 04.43}}
        c8w-N: {at: j12-N, into: corvane-w-N, shows: {DIVERGING-ASPECTS 04.44}}
      """;

  /** Where the next group begins. */
  private static final String SIGNALS_BETWEEN =
      """
        x2e-N: {at: corvane-end-N, into: fallow-1-NEXT, shows: {MAIN-ASPECTS 04.45}}
        x2w-N: {at: corvane-end-N, into: corvane-main-N, shows: {MAIN-ASPECTS 04.46}}
      """;

  private static final String ROUTES =
      """
        - {from: f2e-N, to: t2e-N, switches: {s1-N: normal}, speed: main, release: 8 s}
        - {from: f4e-N, to: t2e-N, switches: {s1-N: reverse}, speed: diverging, release: 8 s}
        - {from: f6w-N, to: WEST, switches: {s1-N: normal}, speed: main, release: 10 s, approach: [west-main-N, tilling-w-N]}
        - {from: f6w-N, to: fallow-2-end-N, switches: {s1-N: reverse}, speed: diverging, release: 10 s, approach: [west-main-N, tilling-w-N]}
        - {from: t2e-N, to: t4e-N, switches: {t1-N: normal}, speed: main, release: 10 s, approach: [west-main-N, fallow-os-N]}
        - {from: t2e-N, to: t6e-N, switches: {t1-N: reverse}, speed: diverging, release: 10 s, approach: [west-main-N, fallow-os-N]}
        - {from: t4e-N, to: m2e-N, switches: {t2-N: normal}, speed: main, release: 10 s}
        - {from: t6e-N, to: m2e-N, switches: {t2-N: reverse}, speed: diverging, release: 10 s}
        - {from: t8w-N, to: t4w-N, switches: {t2-N: normal}, speed: main, release: 10 s, approach: [mid-west-N, mid-east-N]}
        - {from: t8w-N, to: t6w-N, switches: {t2-N: reverse}, speed: diverging, release: 10 s, approach: [mid-west-N, mid-east-N]}
        - {from: t4w-N, to: f6w-N, switches: {t1-N: normal}, speed: main, release: 10 s}
        - {from: t6w-N, to: f6w-N, switches: {t1-N: reverse}, speed: diverging, release: 10 s}
        - {from: m2e-N, to: c2e-N, speed: main, release: 10 s, not with: [m2w-N-t8w-N]}
        - {from: m2w-N, to: t8w-N, speed: main, release: 10 s}
        - {from: c2e-N, to: EAST, switches: {c1-N: normal, c2-N: normal}, speed: main, release: 10 s, approach: [mid-east-N, mid-west-N]}
        - {from: c2e-N, to: mill-end-N, switches: {c1-N: normal, c2-N: reverse}, speed: diverging, release: 10 s, approach: [mid-east-N, mid-west-N]}
        - {from: c2e-N, to: j15-N, switches: {c1-N: reverse}, speed: diverging, release: 10 s, approach: [mid-east-N, mid-west-N]}
        - {from: c4w-N, to: m2w-N, switches: {c2-N: normal, c1-N: normal}, speed: main, release: 10 s}
        - {from: c6w-N, to: m2w-N, switches: {c2-N: reverse, c1-N: normal}, speed: diverging, release: 10 s}
        - {from: c8w-N, to: m2w-N, switches: {c1-N: reverse}, speed: diverging, release: 10 s}
      """;

  private static final String ROUTES_BETWEEN =
      """
        - {from: x2e-N, to: f2e-NEXT, speed: main, release: 10 s, not with: [x2w-N-c4w-N]}
        - {from: x2w-N, to: c4w-N, speed: main, release: 10 s}
      """;

  private static final String TIMES_AND_ASPECTS =
      """
      rules: 1
      times: {loss of shunt: 2 s, start: 10 s}
      aspects:
        main:
          beyond stop: approach
          beyond approach: clear
          beyond clear: clear
          beyond diverging-approach: approach-diverging
          beyond diverging-clear: approach-diverging
          beyond approach-diverging: clear
        diverging:
          beyond stop: diverging-approach
          beyond approach: diverging-clear
          beyond clear: diverging-clear
          beyond diverging-approach: diverging-clear
          beyond diverging-clear: diverging-clear
          beyond approach-diverging: diverging-clear
      routes:
      """;

  private static final String FIRST_END = "fallow-1-end-0";
  private static final int GROUP_WIDTH = 48;
  private static final int GROUPS_MAX = 0xFFFF;

  private final int groups;

  /**
   * A line.
   *
   * @param groups 1 to {@value #GROUPS_MAX}
   */
  public GeneratedLine(int groups) {
    if (groups < 1 || groups > GROUPS_MAX) {
      throw new IllegalArgumentException(groups + " groups, expected 1 to " + GROUPS_MAX);
    }
    this.groups = groups;
  }

  /** The layout file. */
  public String layoutText() {
    return "layout: 1\nname: A generated line\njoints:\n  %s: [0, 2]\n".formatted(FIRST_END)
        + each(JOINTS)
        + "sections:\n"
        + each(SECTIONS)
        + "switches:\n"
        + each(SWITCHES)
        + "signals:\n"
        + each(SIGNALS)
        + between(SIGNALS_BETWEEN);
  }

  /** The rule file. */
  public String ruleText() {
    return TIMES_AND_ASPECTS + each(ROUTES) + between(ROUTES_BETWEEN);
  }

  /** The layout as it is read. */
  public Layout layout() {
    Problems problems = new Problems();
    return LayoutReader.read("generated layout", layoutText(), problems)
        .orElseThrow(() -> mistaken(problems));
  }

  /** The rules as they are read against {@link #layout}. */
  public ControlTable table(Layout layout) {
    Problems problems = new Problems();
    return RuleReader.read("generated rules", ruleText(), layout, problems)
        .orElseThrow(() -> mistaken(problems));
  }

  private static IllegalStateException mistaken(Problems problems) {
    return new IllegalStateException("the generator writes mistakes: " + problems.sorted());
  }

  private String each(String pattern) {
    return numbered(groups, group -> written(pattern, group));
  }

  private String between(String pattern) {
    return numbered(groups - 1, group -> written(pattern, group));
  }

  private static String numbered(int count, IntFunction<String> text) {
    return IntStream.range(0, count).mapToObj(text).collect(Collectors.joining());
  }

  private String written(String pattern, int group) {
    boolean first = group == 0;
    boolean last = group == groups - 1;
    return withEvents(
            eastward(pattern, group * GROUP_WIDTH),
            "0A.57.%02X.%02X.".formatted(group >> 8, group & 0xFF))
        .replaceAll("\\bWESTEND\\b", first ? FIRST_END : "corvane-end-" + (group - 1))
        .replaceAll("\\bWEST\\b", first ? FIRST_END : "x2w-" + (group - 1))
        .replaceAll("\\bEAST\\b", last ? "corvane-end-" + group : "x2e-" + group)
        .replaceAll("-NEXT\\b", "-" + (group + 1))
        .replaceAll("-N\\b", "-" + group);
  }

  private static String eastward(String pattern, int across) {
    return Pattern.compile("\\[X(\\d+)")
        .matcher(pattern)
        .replaceAll(x -> "[" + (across + Integer.parseInt(x.group(1))));
  }

  /** A device is written as its board and its number there, which make its event ids. */
  private static String withEvents(String pattern, String station) {
    String event = station + "$1.00.$2";
    String detected = station + "$1.00.3$2";
    String sent = station + "$1.00.2$2";
    String shown = "stop: " + event + ".00";
    String main =
        ", approach: "
            + event
            + ".01, clear: "
            + event
            + ".02, approach-diverging: "
            + event
            + ".05";
    String diverging = ", diverging-approach: " + event + ".03, diverging-clear: " + event + ".04";
    String device = " (..)\\.(..)";
    return pattern
        .replaceAll("DETECTOR" + device, "occupied: " + event + ".01, clear: " + event + ".00")
        .replaceAll(
            "MACHINE (..)\\.2(.)",
            "to: {normal: %1$s.00, reverse: %1$s.01}, at: {normal: %2$s.00, reverse: %2$s.01}"
                .formatted(sent, detected))
        .replaceAll("MAIN-ASPECTS" + device, shown + main)
        .replaceAll("DIVERGING-ASPECTS" + device, shown + diverging)
        .replaceAll("ALL-ASPECTS" + device, shown + main + diverging);
  }
}
