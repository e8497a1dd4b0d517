package tappet.layout;

/** The smallest layout that has one of each. */
final class TinyLayout {

  static final String TEXT =
      """
      layout: 1
      name: Tiny
      joints:
        a: [0, 0]
        b: [2, 0]
        c: [3.5, 0]
        d: [3.5, -1]
      sections:
        main: {name: Main, between: [a, b], length: 3.2 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
        os: {length: 60 cm, occupied: 0A.00.00.00.00.01.12.01, clear: 0A.00.00.00.00.01.12.00}
      switches:
        s:
          section: os
          points: b
          normal: c
          reverse: d
          to: {normal: 0A.00.00.00.00.01.21.00, reverse: 0A.00.00.00.00.01.21.01}
          at: {normal: 0A.00.00.00.00.01.31.00, reverse: 0A.00.00.00.00.01.31.01}
      signals:
        e: {name: 2E, at: b, into: os, shows: {stop: 0A.00.00.00.00.01.41.00, clear: 0A.00.00.00.00.01.41.01}}
      """;

  private TinyLayout() {}
}
