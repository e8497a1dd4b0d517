package tappet.layout;

/** Two lines that cross at grade. */
final class CrossedLayout {

  static final String TEXT =
      """
      layout: 1
      name: Crossed
      joints: {a: [0, 0], b: [2, 0], c: [4, 0], d: [6, 0], n: [3, 3], e: [3, 1], f: [3, -1], s: [3, -3]}
      sections:
        west: {between: [a, b], length: 1 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
        east: {between: [c, d], length: 1 m, occupied: 0A.00.00.00.00.01.12.01, clear: 0A.00.00.00.00.01.12.00}
        north: {between: [n, e], length: 1 m, occupied: 0A.00.00.00.00.01.13.01, clear: 0A.00.00.00.00.01.13.00}
        south: {between: [f, s], length: 1 m, occupied: 0A.00.00.00.00.01.14.01, clear: 0A.00.00.00.00.01.14.00}
        x: {length: 20 cm, occupied: 0A.00.00.00.00.01.15.01, clear: 0A.00.00.00.00.01.15.00}
      diamonds:
        x1: {name: Mill crossing, section: x, tracks: [[b, c], [f, e]]}
      """;

  private CrossedLayout() {}
}
