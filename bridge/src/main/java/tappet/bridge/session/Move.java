package tappet.bridge.session;

import java.util.BitSet;
import java.util.List;
import tappet.layout.Position;
import tappet.rules.RouteRow;

/** How a train gets from one stand to the next. */
sealed interface Move {

  /** Where it leads. */
  Stand to();

  /** The sections that no other train may be on, or come to; not to be changed. */
  BitSet needs();

  /** The sections it runs over, in order of travel. */
  List<String> path();

  /** What a way is judged by: the less the better. */
  int cost();

  /**
   * By a route, and on by automatic signals as far as the next one that holds the train.
   *
   * @param rows one or more; the first is lined unless it is automatic
   */
  record Over(List<RouteRow> rows, List<String> path, BitSet needs, Stand to) implements Move {
    public Over {
      rows = List.copyOf(rows);
      path = List.copyOf(path);
    }

    @Override
    public int cost() {
      return 1;
    }

    RouteRow first() {
      return rows.get(0);
    }
  }

  /** The engineer changes ends, and rolls up to the next signal the other way. */
  record Turn(List<String> path, BitSet needs, Stand to) implements Move {

    /** Dear, so that trains turn where they must and nowhere else. */
    private static final int COST = 5;

    public Turn {
      path = List.copyOf(path);
    }

    @Override
    public int cost() {
      return COST;
    }
  }

  /**
   * Over a switch that the crew throws by hand, into a spur or out of it.
   *
   * @param toe the switch
   * @param forSpur the position in which it leads to the spur
   * @param out whether the train leaves the spur, for which its engineer changes ends
   */
  record ByHand(
      String toe, Position forSpur, boolean out, List<String> path, BitSet needs, Stand to)
      implements Move {

    private static final int COST = 2;

    public ByHand {
      path = List.copyOf(path);
    }

    @Override
    public int cost() {
      return COST;
    }
  }
}
