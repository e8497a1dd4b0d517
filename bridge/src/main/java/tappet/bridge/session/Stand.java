package tappet.bridge.session;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;

/** Where a train of one length can stand, and the moves by which it goes on. */
final class Stand {

  /**
   * A section under a train, or behind it.
   *
   * @param entry the joint at which the train came in
   */
  record Trodden(String section, String entry) {}

  /**
   * What makes a stand this one.
   *
   * @param head the joint before the train's head
   * @param trail the sections under it, that of the head first
   * @param turned whether it came here by changing ends, against the traffic of a line
   */
  record Key(String head, List<Trodden> trail, boolean turned) {
    Key {
      trail = List.copyOf(trail);
    }
  }

  private final int number;
  private final Key key;
  private final BitSet covers;
  private final List<String> signals;
  private final boolean heldByItself;
  private final List<Move> moves = new ArrayList<>();

  /**
   * @param number its own among all stands of its train
   * @param covers the sections under it
   * @param signals those before it
   * @param heldByItself whether a signal that is not passed at Stop, or the end of track, keeps the
   *     train here; else its crew has to halt it
   */
  Stand(int number, Key key, BitSet covers, List<String> signals, boolean heldByItself) {
    this.number = number;
    this.key = key;
    this.covers = covers;
    this.signals = List.copyOf(signals);
    this.heldByItself = heldByItself;
  }

  void add(Move move) {
    moves.add(move);
  }

  int number() {
    return number;
  }

  Key key() {
    return key;
  }

  String head() {
    return key.head();
  }

  List<Trodden> trail() {
    return key.trail();
  }

  /** The section of the train's head. */
  String section() {
    return key.trail().get(0).section();
  }

  List<String> sections() {
    return key.trail().stream().map(Trodden::section).toList();
  }

  /** The sections under it; not to be changed. */
  BitSet covers() {
    return covers;
  }

  List<String> signals() {
    return signals;
  }

  boolean isHeldByItself() {
    return heldByItself;
  }

  List<Move> moves() {
    return moves;
  }

  @Override
  public String toString() {
    return section() + " toward " + head();
  }
}
