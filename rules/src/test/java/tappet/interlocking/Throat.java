package tappet.interlocking;

/**
 * A railroad with a route over several sections and a switch in two of them, one met facing and one
 * trailing.
 *
 * <pre>
 *   near ── a2e ── first (s1) ── middle ── second (s2) ── last ── z
 *                       '── spur              tail ──'
 * </pre>
 */
final class Throat {

  static final String LAYOUT =
      """
      layout: 1
      name: Throat
      joints: {y: [0, 1], a: [2, 1], b: [4, 1], s: [4, 0], c: [6, 1], t: [6, 0], d: [8, 1], z: [10, 1], s-end: [5, 0], t-end: [5.5, 0]}
      sections:
        near: {between: [y, a], length: 1 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
        first: {length: 1 m, occupied: 0A.00.00.00.00.01.12.01, clear: 0A.00.00.00.00.01.12.00}
        middle: {between: [b, c], length: 1 m, occupied: 0A.00.00.00.00.01.13.01, clear: 0A.00.00.00.00.01.13.00}
        second: {length: 1 m, occupied: 0A.00.00.00.00.01.14.01, clear: 0A.00.00.00.00.01.14.00}
        last: {between: [d, z], length: 1 m, occupied: 0A.00.00.00.00.01.15.01, clear: 0A.00.00.00.00.01.15.00}
        spur: {between: [s, s-end], length: 1 m, occupied: 0A.00.00.00.00.01.16.01, clear: 0A.00.00.00.00.01.16.00}
        tail: {between: [t, t-end], length: 1 m, occupied: 0A.00.00.00.00.01.17.01, clear: 0A.00.00.00.00.01.17.00}
      switches:
        s1:
          section: first
          points: a
          normal: b
          reverse: s
          to: {normal: 0A.00.00.00.00.01.21.00, reverse: 0A.00.00.00.00.01.21.01}
          at: {normal: 0A.00.00.00.00.01.31.00, reverse: 0A.00.00.00.00.01.31.01}
        s2:
          section: second
          points: d
          normal: c
          reverse: t
          to: {normal: 0A.00.00.00.00.01.22.00, reverse: 0A.00.00.00.00.01.22.01}
          at: {normal: 0A.00.00.00.00.01.32.00, reverse: 0A.00.00.00.00.01.32.01}
      signals:
        a2e: {at: a, into: first, shows: {stop: 0A.00.00.00.00.01.41.00, approach: 0A.00.00.00.00.01.41.01}}
        t2e: {at: t, into: second, shows: {stop: 0A.00.00.00.00.01.42.00, approach: 0A.00.00.00.00.01.42.01}}
      """;

  static final String RULES =
      """
      rules: 1
      times: {loss of shunt: 2 s, start: 10 s}
      routes:
        - {name: through, from: a2e, to: z, switches: {s1: normal, s2: normal}, speed: main, release: 10 s, approach: [near]}
        - {name: to-spur, from: a2e, to: s-end, switches: {s1: reverse}, speed: main, release: 10 s, approach: [near]}
        - {name: from-tail, from: t2e, to: z, switches: {s2: reverse}, speed: main, release: 10 s}
      aspects:
        main: {beyond stop: approach}
      """;

  /** The same with an automatic signal in the middle that leads over the second switch. */
  private static final Desk.Railroad AUTOMATIC =
      Desk.Railroad.read(
          LAYOUT
              + """
                m2e: {at: c, into: second, shows: {stop: 0A.00.00.00.00.01.43.00, approach: 0A.00.00.00.00.01.43.01}}
                d2w: {at: d, into: second, shows: {stop: 0A.00.00.00.00.01.44.00, approach: 0A.00.00.00.00.01.44.01}}
              """,
          """
          rules: 1
          times: {loss of shunt: 2 s, start: 10 s}
          routes:
            - {from: a2e, to: m2e, switches: {s1: normal}, speed: main, release: 10 s}
            - {from: m2e, to: z, switches: {s2: normal}, speed: main, automatic: yes}
            - {from: d2w, to: y, switches: {s2: normal, s1: normal}, speed: main, release: 10 s}
          traffic:
            - {line: way, sections: [middle, second, last], eastward: [a2e, m2e], westward: [d2w]}
          aspects:
            main: {beyond stop: approach, beyond approach: approach}
          """);

  /**
   * The same with a signal in the middle that is worked by the dispatcher, and an overlap beyond.
   */
  private static final String OVERLAP_LAYOUT =
      LAYOUT
          + """
            m2e: {at: c, into: second, shows: {stop: 0A.00.00.00.00.01.43.00, approach: 0A.00.00.00.00.01.43.01}}
          """;

  private static final String OVERLAP_RULES =
      """
      rules: 1
      times: {loss of shunt: 2 s, start: 10 s}
      routes:
        - {from: a2e, to: m2e, switches: {s1: normal}, overlap: {clear: [second], switches: {s2: normal}, time: 8 s}, speed: main, release: 10 s}
        - {from: m2e, to: z, switches: {s2: normal}, speed: main, release: 10 s}
        - {from: t2e, to: z, switches: {s2: reverse}, speed: main, release: 10 s}
      aspects:
        main: {beyond stop: approach, beyond approach: approach}
      """;

  private static final Desk.Railroad OVERLAP = Desk.Railroad.read(OVERLAP_LAYOUT, OVERLAP_RULES);

  /** The same with one more section beyond, so that a train can run on far ahead of the next. */
  private static final Desk.Railroad FARTHER =
      Desk.Railroad.read(
          OVERLAP_LAYOUT
              .replace("z: [10, 1],", "z: [10, 1], x: [12, 1],")
              .replace(
                  "sections:\n",
                  "sections:\n  beyond: {between: [z, x], length: 1 m, occupied: 0A.00.00.00.00.01.18.01, clear: 0A.00.00.00.00.01.18.00}\n"),
          OVERLAP_RULES.replace("to: z,", "to: x,"));

  private static final Desk.Railroad RAILROAD = Desk.Railroad.read(LAYOUT, RULES);

  private Throat() {}

  static Desk overlap() {
    return Desk.ready(OVERLAP);
  }

  static Desk farther() {
    return Desk.ready(FARTHER);
  }

  static Desk automatic() {
    return Desk.ready(AUTOMATIC);
  }

  static Desk desk() {
    return Desk.ready(RAILROAD);
  }
}
