package tappet.interlocking;

/**
 * A railroad with every kind of switch.
 *
 * <pre>
 *   y ─ west ─ a2e ─ quarry ─ b2w ─ mid ─ c2e ─ sp ─ d2w ─ east ─ e2e ─ x1 ─ end-1 ─ g2e ─ l1 ─ h1 ─ o
 *                       '── d1 ─ q2w ─ spur    ' s2e ─ siding       \                       '  '── p
 *                                               t2 ─ h2e ─────── x1b ─ end-2 ─ z2           u1 ─ r
 *                                                                                            '── t
 * </pre>
 *
 * quarry is released and moves derail d1; sp is sprung; x1 and x1b are one crossover, tried three
 * times; l1 is local, h1 is thrown by hand, and u1 has no detection.
 */
final class Kinds {

  private static final String FORM =
      """
      layout: 1
      name: Every kind
      joints: {y: [0, 2], a: [2, 2], b: [4, 2], c: [6, 2], d: [8, 2], e: [10, 2], f: [12, 2], g: [14, 2],
               q: [4, 3], q2: [5, 3], q-end: [7, 3], s: [6, 1], s-end: [4, 1], x: [11, 1], h: [10, 0],
               k: [12, 0], z2: [14, 0], t2: [8, 0], m: [16, 2], n: [16, 1], o: [18, 2], p: [18, 3],
               r: [18, 1], t: [18, 0]}
      sections:
        west: {between: [y, a], length: 1 m, occupied: §, clear: §}
        quarry-track: {length: 1 m, occupied: §, clear: §}
        spur-lead: {length: 1 m, occupied: §, clear: §}
        spur: {between: [q2, q-end], length: 1 m, occupied: §, clear: §}
        mid: {between: [b, c], length: 1 m, occupied: §, clear: §}
        sp-os: {length: 1 m, occupied: §, clear: §}
        siding: {between: [s-end, s], length: 1 m, occupied: §, clear: §}
        east: {between: [d, e], length: 1 m, occupied: §, clear: §}
        x1-os: {length: 1 m, occupied: §, clear: §}
        x2-os: {length: 1 m, occupied: §, clear: §}
        track-2: {between: [t2, h], length: 1 m, occupied: §, clear: §}
        end-1: {between: [f, g], length: 1 m, occupied: §, clear: §}
        end-2: {between: [k, z2], length: 1 m, occupied: §, clear: §}
        l-os: {length: 1 m, occupied: §, clear: §}
        h-os: {length: 1 m, occupied: §, clear: §}
        u-os: {length: 1 m, occupied: §, clear: §}
      switches:
        quarry:
          section: quarry-track
          points: a
          normal: b
          reverse: q
          control: released
          lock: {to: {release: §, secure: §}, at: {released: §, secured: §}}
          at: {normal: §, reverse: §}
        sp: {section: sp-os, points: d, normal: c, reverse: s, control: sprung, at: {normal: §, reverse: §}}
        x1:
          section: x1-os
          points: e
          normal: f
          reverse: x
          tries: 3
          to: {normal: §, reverse: §}
          at: {normal: §, reverse: §}
        x1b: {section: x2-os, points: k, normal: h, reverse: x, with: x1, at: {normal: §, reverse: §}}
        l1:
          section: l-os
          points: g
          normal: m
          reverse: n
          control: local
          asks: {normal: §, reverse: §}
          to: {normal: §, reverse: §}
          at: {normal: §, reverse: §}
        h1: {section: h-os, points: m, normal: o, reverse: p, control: hand, at: {normal: §, reverse: §}}
        u1: {section: u-os, points: n, normal: r, reverse: t, assumed after: 4 s, to: {normal: §, reverse: §}}
      derails:
        d1: {section: spur-lead, points: q2, through: q, with: quarry, at: {normal: §, reverse: §}}
      signals:
        a2e: {at: a, into: quarry-track, shows: {stop: §, approach: §}}
        b2w: {at: b, into: quarry-track, shows: {stop: §, approach: §}}
        q2w: {at: q2, into: spur-lead, shows: {stop: §, approach: §}}
        c2e: {at: c, into: sp-os, shows: {stop: §, approach: §}}
        s2e: {at: s, into: sp-os, shows: {stop: §, approach: §}}
        d2w: {at: d, into: sp-os, shows: {stop: §, approach: §}}
        e2e: {at: e, into: x1-os, shows: {stop: §, approach: §}}
        h2e: {at: h, into: x2-os, shows: {stop: §, approach: §}}
        g2e: {at: g, into: l-os, shows: {stop: §, approach: §}}
      """;

  static final String LAYOUT = withEvents(FORM);

  /** The same, with a machine at either end of the crossover. */
  static final String LAYOUT_WITH_TWO_MACHINES =
      withEvents(FORM.replace("with: x1, at:", "with: x1, to: {normal: §, reverse: §}, at:"));

  static final String RULES =
      """
      rules: 1
      times: {loss of shunt: 2 s, start: 10 s}
      routes:
        - {name: main-east, from: a2e, to: c2e, switches: {quarry: normal}, speed: main, release: 5 s}
        - {name: main-west, from: b2w, to: y, switches: {quarry: normal}, speed: main, release: 5 s}
        - {name: from-spur, from: q2w, to: y, switches: {d1: reverse}, speed: main, release: 5 s}
        - {name: through, from: c2e, to: e2e, switches: {sp: normal}, speed: main, release: 5 s}
        - {name: leave-siding, from: s2e, to: e2e, speed: main, release: 5 s, needs: section mid is clear and section quarry-track is clear and not route main-east is locked}
        - {name: main-back, from: d2w, to: b2w, switches: {sp: normal}, speed: main, release: 5 s}
        - {name: one, from: e2e, to: g2e, switches: {x1: normal}, speed: main, release: 5 s}
        - {name: cross, from: e2e, to: z2, switches: {x1b: reverse}, speed: main, release: 5 s}
        - {name: two, from: h2e, to: z2, switches: {x1b: normal}, speed: main, release: 5 s}
        - {from: g2e, to: o, switches: {l1: normal, h1: normal}, speed: main, release: 5 s}
        - {from: g2e, to: p, switches: {l1: normal, h1: reverse}, speed: main, release: 5 s}
        - {from: g2e, to: r, switches: {l1: reverse, u1: normal}, speed: main, release: 5 s}
        - {from: g2e, to: t, switches: {l1: reverse, u1: reverse}, speed: main, release: 5 s}
      aspects:
        main: {beyond stop: approach, beyond approach: approach}
      locks:
        - {switch: quarry, release time: 8 s, release section: quarry-track, approach: [west, mid, quarry-track]}
      """;

  static final Desk.Railroad RAILROAD = Desk.Railroad.read(LAYOUT, RULES);

  private Kinds() {}

  static Desk desk() {
    return Desk.ready(RAILROAD);
  }

  /** Each mark stands for an event id of its own. */
  static String withEvents(String form) {
    var text = new StringBuilder();
    int event = 0;
    for (String part : form.split("§", -1)) {
      text.append(
              event == 0 ? "" : "0A.00.00.00.00.02.%02X.%02X".formatted(event / 100, event % 100))
          .append(part);
      event++;
    }
    return text.toString();
  }
}
