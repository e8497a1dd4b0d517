package tappet.interlocking;

/**
 * A short railroad where a route needs more than its own way: switch f turns what stands on the
 * spur away from the main, and section foul reaches into the clearance of the main track.
 *
 * <pre>
 *   west ── m1 (b2e) ── east ── d
 *                    .─ foul ── g
 *   spur ── f (points at e) ─ trap ── h
 * </pre>
 */
final class Siding {

  static final String LAYOUT =
      """
      layout: 1
      name: Spur beside the main
      joints: {a: [0, 1], b: [2, 1], c: [4, 1], d: [6, 1], s: [0, 0], e: [2, 0], g: [4, 0.5], h: [4, 0], k: [6, 0.5]}
      sections:
        west: {between: [a, b], length: 1 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
        main: {between: [b, c], length: 1 m, occupied: 0A.00.00.00.00.01.12.01, clear: 0A.00.00.00.00.01.12.00}
        east: {between: [c, d], length: 1 m, occupied: 0A.00.00.00.00.01.13.01, clear: 0A.00.00.00.00.01.13.00}
        spur: {between: [s, e], length: 1 m, occupied: 0A.00.00.00.00.01.14.01, clear: 0A.00.00.00.00.01.14.00}
        spur-os: {length: 1 m, occupied: 0A.00.00.00.00.01.15.01, clear: 0A.00.00.00.00.01.15.00}
        foul: {between: [g, k], length: 1 m, occupied: 0A.00.00.00.00.01.16.01, clear: 0A.00.00.00.00.01.16.00}
      switches:
        f:
          section: spur-os
          points: e
          normal: h
          reverse: g
          to: {normal: 0A.00.00.00.00.01.21.00, reverse: 0A.00.00.00.00.01.21.01}
          at: {normal: 0A.00.00.00.00.01.31.00, reverse: 0A.00.00.00.00.01.31.01}
      signals:
        b2e: {at: b, into: main, shows: {stop: 0A.00.00.00.00.01.41.00, approach: 0A.00.00.00.00.01.41.01}}
        e2e: {at: e, into: spur-os, shows: {stop: 0A.00.00.00.00.01.42.00, approach: 0A.00.00.00.00.01.42.01}}
      """;

  /** The main wants switch f away from it. */
  static final String FLANK_RULES =
      """
      rules: 1
      routes:
        - {from: b2e, to: d, clear: [main, east], flank: {f: normal}, speed: main, release: 5 s}
        - {from: e2e, to: k, switches: {f: reverse}, speed: main, release: 5 s}
        - {from: e2e, to: h, switches: {f: normal}, speed: main, release: 5 s}
      aspects:
        main: {beyond stop: approach}
      """;

  /** The main wants only the fouling section clear. */
  static final String FOULING_RULES =
      """
      rules: 1
      routes:
        - {from: b2e, to: d, clear: [main, east, foul], speed: main, release: 5 s}
        - {from: e2e, to: k, switches: {f: reverse}, speed: main, release: 5 s}
        - {from: e2e, to: h, switches: {f: normal}, speed: main, release: 5 s}
      aspects:
        main: {beyond stop: approach}
      """;

  private Siding() {}
}
