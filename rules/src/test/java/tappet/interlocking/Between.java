package tappet.interlocking;

/**
 * Two control points with a line of two blocks between them and a pair of automatic signals where
 * the blocks meet. At the east end a switch leads to a second track.
 *
 * <pre>
 *   a ─ west ─ b ─── mid-1 ─── m ─── mid-2 ─── c ─ east-os (e1) ─ d ─ east ─── e
 *         b4w │ b2e      m2w │ m2e       c2w │ c4e              '─ g ─ pocket ─ h
 * </pre>
 */
final class Between {

  static final String LAYOUT =
      """
      layout: 1
      name: Between control points
      joints: {a: [0, 1], b: [2, 1], m: [4, 1], c: [6, 1], d: [7, 1], g: [7, 0], e: [9, 1], h: [9, 0]}
      sections:
        west: {between: [a, b], length: 2 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
        mid-1: {between: [b, m], length: 2 m, occupied: 0A.00.00.00.00.01.12.01, clear: 0A.00.00.00.00.01.12.00}
        mid-2: {between: [m, c], length: 2 m, occupied: 0A.00.00.00.00.01.13.01, clear: 0A.00.00.00.00.01.13.00}
        east-os: {length: 1 m, occupied: 0A.00.00.00.00.01.14.01, clear: 0A.00.00.00.00.01.14.00}
        east: {between: [d, e], length: 2 m, occupied: 0A.00.00.00.00.01.15.01, clear: 0A.00.00.00.00.01.15.00}
        pocket: {between: [g, h], length: 2 m, occupied: 0A.00.00.00.00.01.16.01, clear: 0A.00.00.00.00.01.16.00}
      switches:
        e1:
          section: east-os
          points: c
          normal: d
          reverse: g
          to: {normal: 0A.00.00.00.00.01.21.00, reverse: 0A.00.00.00.00.01.21.01}
          at: {normal: 0A.00.00.00.00.01.31.00, reverse: 0A.00.00.00.00.01.31.01}
      signals:
        b2e: {at: b, into: mid-1, shows: {stop: 0A.00.00.00.00.01.41.00, approach: 0A.00.00.00.00.01.41.01, advance: 0A.00.00.00.00.01.41.02, clear: 0A.00.00.00.00.01.41.03, restricting: 0A.00.00.00.00.01.41.04}}
        b4w: {at: b, into: west, shows: {stop: 0A.00.00.00.00.01.42.00, approach: 0A.00.00.00.00.01.42.01}}
        m2e: {at: m, into: mid-2, shows: {stop: 0A.00.00.00.00.01.43.00, approach: 0A.00.00.00.00.01.43.01, advance: 0A.00.00.00.00.01.43.02, clear: 0A.00.00.00.00.01.43.03}}
        m2w: {at: m, into: mid-1, shows: {stop: 0A.00.00.00.00.01.44.00, approach: 0A.00.00.00.00.01.44.01, advance: 0A.00.00.00.00.01.44.02}}
        c4e: {at: c, into: east-os, shows: {stop: 0A.00.00.00.00.01.45.00, approach: 0A.00.00.00.00.01.45.01, restricting: 0A.00.00.00.00.01.45.04}}
        d2w: {at: d, into: east-os, shows: {stop: 0A.00.00.00.00.01.46.00, approach: 0A.00.00.00.00.01.46.01, advance: 0A.00.00.00.00.01.46.02, clear: 0A.00.00.00.00.01.46.03}}
        g2w: {at: g, into: east-os, shows: {stop: 0A.00.00.00.00.01.47.00, approach: 0A.00.00.00.00.01.47.01, advance: 0A.00.00.00.00.01.47.02, clear: 0A.00.00.00.00.01.47.03}}
      """;

  static final String RULES =
      """
      rules: 1
      times: {loss of shunt: 2 s, start: 10 s}
      routes:
        - {from: b2e, to: m2e, clear: [mid-1], speed: main, release: 8 s}
        - {from: m2e, to: c4e, clear: [mid-2], speed: main, automatic: yes}
        - {from: c4e, to: e, switches: {e1: normal}, clear: [east-os, east], speed: main, release: 8 s, call on: restricting}
        - {from: c4e, to: h, switches: {e1: reverse}, clear: [east-os, pocket], speed: main, release: 8 s}
        - {from: d2w, to: m2w, switches: {e1: normal}, clear: [east-os, mid-2], speed: main, release: 8 s}
        - {from: g2w, to: m2w, switches: {e1: reverse}, clear: [east-os, mid-2], speed: main, release: 8 s}
        - {from: m2w, to: b4w, clear: [mid-1], speed: main, automatic: yes}
        - {from: b4w, to: a, clear: [west], speed: main, release: 8 s}
      traffic:
        - {line: middle, sections: [mid-1, mid-2], eastward: [b2e, m2e], westward: [d2w, g2w, m2w]}
      aspects:
        main:
          beyond stop: approach
          beyond restricting: approach
          beyond approach: advance
          beyond advance: clear
          beyond clear: clear
      """;

  /**
   * The same with a signal before the west end, whose route keeps the first block of the line clear
   * as its overlap: trains that follow the westward traffic run into it.
   *
   * <pre>
   *   y ─ outer ─ a ─ west ─ b ─ ...
   *           a2e │
   * </pre>
   */
  static final String OVERLAPPED_LAYOUT =
      LAYOUT
          .replace("joints: {", "joints: {y: [0, 0], ")
          .replace(
              "sections:\n",
              "sections:\n  outer: {between: [y, a], length: 2 m, occupied: 0A.00.00.00.00.01.17.01, clear: 0A.00.00.00.00.01.17.00}\n")
          .replace(
              "signals:\n",
              "signals:\n  a2e: {at: a, into: west, shows: {stop: 0A.00.00.00.00.01.48.00, approach: 0A.00.00.00.00.01.48.01, advance: 0A.00.00.00.00.01.48.02, clear: 0A.00.00.00.00.01.48.03}}\n");

  static final String OVERLAPPED_RULES =
      RULES
          .replace("{from: b4w, to: a, clear: [west],", "{from: b4w, to: y, clear: [west, outer],")
          .replace(
              "routes:\n",
              "routes:\n  - {from: a2e, to: b2e, clear: [west], overlap: {clear: [mid-1], time: 8 s}, speed: main, release: 8 s}\n");

  /**
   * The same with a spur off the second block, whose switch a crew throws by hand when its electric
   * lock is released.
   *
   * <pre>
   *   ... ─ m ─── mid-2 (q1) ─── c ─ ...
   *                    '─ p ─ spur ─ q
   * </pre>
   */
  static final Desk.Railroad SPURRED =
      Desk.Railroad.read(
          LAYOUT
              .replace("joints: {", "joints: {p: [5, 2], q: [6, 2], ")
              .replace("mid-2: {between: [m, c], ", "mid-2: {")
              .replace(
                  "sections:\n",
                  "sections:\n  spur: {between: [p, q], length: 1 m, occupied: 0A.00.00.00.00.01.18.01, clear: 0A.00.00.00.00.01.18.00}\n")
              .replace(
                  "switches:\n",
                  """
                  switches:
                    q1:
                      section: mid-2
                      points: m
                      normal: c
                      reverse: p
                      control: released
                      at: {normal: 0A.00.00.00.00.01.32.00, reverse: 0A.00.00.00.00.01.32.01}
                      lock:
                        to: {release: 0A.00.00.00.00.01.51.01, secure: 0A.00.00.00.00.01.51.00}
                        at: {released: 0A.00.00.00.00.01.52.01, secured: 0A.00.00.00.00.01.52.00}
                  """),
          RULES
                  .replace("to: c4e, clear", "to: c4e, switches: {q1: normal}, clear")
                  .replace(
                      "normal}, clear: [east-os, mid-2]",
                      "normal, q1: normal}, clear: [east-os, mid-2]")
                  .replace(
                      "reverse}, clear: [east-os, mid-2]",
                      "reverse, q1: normal}, clear: [east-os, mid-2]")
              + """
                locks:
                  - {switch: q1, release time: 8 s, release section: mid-2, approach: [west, mid-1, mid-2, east-os]}
                """);

  static final Desk.Railroad OVERLAPPED = Desk.Railroad.read(OVERLAPPED_LAYOUT, OVERLAPPED_RULES);

  private static final Desk.Railroad RAILROAD = Desk.Railroad.read(LAYOUT, RULES);

  private Between() {}

  static Desk desk() {
    return Desk.ready(RAILROAD);
  }

  static Desk spurred() {
    return Desk.ready(SPURRED);
  }

  static Desk overlapped() {
    return Desk.ready(OVERLAPPED);
  }

  /** A desk just started: nothing is known. */
  static Desk started() {
    return Desk.started(RAILROAD);
  }

  /** The same railroad with a row written otherwise. */
  static Desk desk(String row, String otherRow) {
    return Desk.ready(LAYOUT, RULES.replace(row, otherRow));
  }
}
