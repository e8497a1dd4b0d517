package tappet.interlocking;

import tappet.interlocking.Desk.Railroad;

/**
 * A single track across a road, with a signal on each side of the road and one at each end.
 *
 * <pre>
 *    a (w0e) ─ west-far ─ b ─ west-near ─ c (w2e) ─ road ─ d (e2w) ─ east-near ─ e ─ east-far ─ f (e0w)
 * </pre>
 *
 * Devices are added by each test.
 */
final class Lane {

  private static final String LAYOUT =
      """
      layout: 1
      name: A lane
      joints: {a: [0, 0], b: [2, 0], c: [4, 0], d: [5, 0], e: [7, 0], f: [9, 0]}
      sections:
        west-far: {between: [a, b], length: 1 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
        west-near: {between: [b, c], length: 1 m, occupied: 0A.00.00.00.00.01.12.01, clear: 0A.00.00.00.00.01.12.00}
        road: {between: [c, d], length: 30 cm, occupied: 0A.00.00.00.00.01.13.01, clear: 0A.00.00.00.00.01.13.00}
        east-near: {between: [d, e], length: 1 m, occupied: 0A.00.00.00.00.01.14.01, clear: 0A.00.00.00.00.01.14.00}
        east-far: {between: [e, f], length: 1 m, occupied: 0A.00.00.00.00.01.15.01, clear: 0A.00.00.00.00.01.15.00}
      signals:
        w0e: {at: a, into: west-far, shows: {stop: 0A.00.00.00.00.01.41.00, approach: 0A.00.00.00.00.01.41.01}}
        w2e: {at: c, into: road, shows: {stop: 0A.00.00.00.00.01.42.00, approach: 0A.00.00.00.00.01.42.01}}
        e2w: {at: d, into: road, shows: {stop: 0A.00.00.00.00.01.43.00, approach: 0A.00.00.00.00.01.43.01}}
        e0w: {at: f, into: east-far, shows: {stop: 0A.00.00.00.00.01.44.00, approach: 0A.00.00.00.00.01.44.01}}
      """;

  static final String RULES =
      """
      rules: 1
      times: {loss of shunt: 2 s, start: 5 s}
      routes:
        - {from: w0e, to: w2e, speed: main, release: 5 s}
        - {from: w2e, to: f, speed: main, release: 5 s}
        - {from: e2w, to: a, speed: main, release: 5 s}
        - {from: e0w, to: e2w, speed: main, release: 5 s}
      aspects:
        main: {beyond stop: approach, beyond approach: approach}
      """;

  private Lane() {}

  /** The lane with further keys in each file. */
  static Railroad with(String devices, String rules) {
    return Railroad.read(LAYOUT + devices, RULES + rules);
  }

  /** The lane with a power district on its west side. */
  static Railroad withDistrict(String rules) {
    String fed =
        LAYOUT
            .replace("west-far: {", "west-far: {district: west, ")
            .replace("west-near: {", "west-near: {district: west, ");
    String district =
        """
        districts:
          west: {name: West end, tripped: 0A.00.00.00.00.01.51.01, restored: 0A.00.00.00.00.01.51.00}
        """;
    return Railroad.read(fed + district, RULES + rules);
  }
}
