package tappet.interlocking;

/**
 * A line with a plant's spur and a yard, where people work beside trains.
 *
 * <pre>
 *   west ── b2e ── c-os (c3) ── c8w ── mid ── d4e ── y-os (y1) ── e6w ── east
 *                     '── p2w ── creamery               '── yard
 * </pre>
 */
final class Creamery {

  static final String LAYOUT =
      """
      layout: 1
      name: Creamery spur
      joints: {a: [0, 1], b: [2, 1], c: [4, 1], p: [4, 0], p-end: [6, 0], d: [6, 1], e: [8, 1], q: [8, 0], q-end: [10, 0], f: [10, 1]}
      sections:
        west: {between: [a, b], length: 1 m, occupied: 0A.00.00.00.00.02.11.01, clear: 0A.00.00.00.00.02.11.00}
        c-os: {length: 1 m, occupied: 0A.00.00.00.00.02.12.01, clear: 0A.00.00.00.00.02.12.00}
        creamery: {between: [p, p-end], length: 1 m, occupied: 0A.00.00.00.00.02.13.01, clear: 0A.00.00.00.00.02.13.00}
        mid: {between: [c, d], length: 1 m, occupied: 0A.00.00.00.00.02.14.01, clear: 0A.00.00.00.00.02.14.00}
        y-os: {length: 1 m, occupied: 0A.00.00.00.00.02.15.01, clear: 0A.00.00.00.00.02.15.00}
        yard: {between: [q, q-end], length: 1 m, occupied: 0A.00.00.00.00.02.16.01, clear: 0A.00.00.00.00.02.16.00}
        east: {between: [e, f], length: 1 m, occupied: 0A.00.00.00.00.02.17.01, clear: 0A.00.00.00.00.02.17.00}
      switches:
        c3:
          section: c-os
          points: b
          normal: c
          reverse: p
          to: {normal: 0A.00.00.00.00.02.21.00, reverse: 0A.00.00.00.00.02.21.01}
          at: {normal: 0A.00.00.00.00.02.31.00, reverse: 0A.00.00.00.00.02.31.01}
        y1:
          section: y-os
          points: d
          normal: e
          reverse: q
          to: {normal: 0A.00.00.00.00.02.22.00, reverse: 0A.00.00.00.00.02.22.01}
          at: {normal: 0A.00.00.00.00.02.32.00, reverse: 0A.00.00.00.00.02.32.01}
      signals:
        b2e: {at: b, into: c-os, shows: {stop: 0A.00.00.00.00.02.41.00, approach: 0A.00.00.00.00.02.41.01, clear: 0A.00.00.00.00.02.41.02}}
        c8w: {at: c, into: c-os, shows: {stop: 0A.00.00.00.00.02.42.00, approach: 0A.00.00.00.00.02.42.01, clear: 0A.00.00.00.00.02.42.02}}
        p2w: {at: p, into: c-os, shows: {stop: 0A.00.00.00.00.02.43.00, approach: 0A.00.00.00.00.02.43.01, clear: 0A.00.00.00.00.02.43.02}}
        d4e: {at: d, into: y-os, shows: {stop: 0A.00.00.00.00.02.44.00, approach: 0A.00.00.00.00.02.44.01, clear: 0A.00.00.00.00.02.44.02}}
        e6w: {at: e, into: y-os, shows: {stop: 0A.00.00.00.00.02.45.00, approach: 0A.00.00.00.00.02.45.01, clear: 0A.00.00.00.00.02.45.02}}
      """;

  static final String RULES =
      """
      rules: 1
      times: {loss of shunt: 2 s, start: 10 s}
      routes:
        - {name: east-1, from: b2e, to: d4e, switches: {c3: normal}, speed: main, release: 10 s}
        - {name: spur-in, from: b2e, to: p-end, switches: {c3: reverse}, speed: main, release: 10 s}
        - {name: spur-out, from: p2w, to: a, switches: {c3: reverse}, speed: main, release: 10 s}
        - {name: west-2, from: c8w, to: a, switches: {c3: normal}, speed: main, release: 10 s}
        - {name: east-2, from: d4e, to: f, switches: {y1: normal}, speed: main, release: 10 s}
        - {name: yard-in, from: d4e, to: q-end, switches: {y1: reverse}, speed: main, release: 10 s}
        - {name: west-1, from: e6w, to: c8w, switches: {y1: normal}, speed: main, release: 10 s}
      aspects:
        main: {beyond stop: approach, beyond approach: clear, beyond clear: clear}
      """;

  static final Desk.Railroad RAILROAD = Desk.Railroad.read(LAYOUT, RULES);

  private Creamery() {}

  static Desk desk() {
    return Desk.ready(RAILROAD);
  }
}
