package tappet.rules;

/** A ring with two signals, run one way round. */
public final class Ring {

  public static final String LAYOUT =
      """
      layout: 1
      name: A ring
      joints: {a: [0, 0], b: [2, 0]}
      sections:
        north: {between: [a, b], length: 1 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
        south: {between: [b, a], length: 1 m, occupied: 0A.00.00.00.00.01.12.01, clear: 0A.00.00.00.00.01.12.00}
      signals:
        p: {at: a, into: north, shows: {stop: 0A.00.00.00.00.01.41.00, approach: 0A.00.00.00.00.01.41.01, clear: 0A.00.00.00.00.01.41.02}}
        q: {at: b, into: south, shows: {stop: 0A.00.00.00.00.01.42.00, approach: 0A.00.00.00.00.01.42.01, clear: 0A.00.00.00.00.01.42.02}}
      """;

  private Ring() {}
}
