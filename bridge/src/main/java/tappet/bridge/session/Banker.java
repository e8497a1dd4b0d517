package tappet.bridge.session;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;

/**
 * Lends track as a careful banker lends money: only if it is certain that everybody can still come
 * to an end (E. W. Dijkstra, Cooperating Sequential Processes, EWD 123, 1965, section 6, here from
 * memory). Trains differ from his borrowers in that one who is through may stay in the way of
 * others, and in that track is lent piece by piece in a certain order. So orders are searched, the
 * likely ones first.
 *
 * <p>Moves only ever bring a train nearer to its end, and one that is through begins again once at
 * most, so that no search goes round in circles. It remembers its answers, and so is asked about
 * the trains of one session only. Whatever cannot be shown within {@value #STATES_MAX} states
 * counts as not safe.
 */
final class Banker implements Foresight {

  static final int STATES_MAX = 20_000;

  private static final int KNOWN_MAX = 200_000;

  /** By how the trains stand: whether all of them can arrive. */
  private final Map<String, Boolean> known = new HashMap<>();

  @Override
  public boolean everyTrainArrives(List<Claim> trains) {
    if (known.size() > KNOWN_MAX) {
      known.clear();
    }
    boolean arrives = new Search().succeeds(trains);
    known.putIfAbsent(Search.key(Search.settled(trains)), arrives);
    return arrives;
  }

  private final class Search {

    private int statesLeft = STATES_MAX;

    boolean succeeds(List<Claim> trains) {
      List<Claim> settled = settled(trains);
      if (settled.stream().allMatch(Search::isThrough)) {
        return true;
      }
      String key = key(settled);
      Boolean answer = known.get(key);
      if (answer == null && statesLeft-- > 0) {
        answer = succeedsFrom(settled);
        if (answer || statesLeft > 0) {
          known.put(key, answer);
        }
      }
      return Boolean.TRUE.equals(answer);
    }

    private boolean succeedsFrom(List<Claim> trains) {
      return IntStream.range(0, trains.size())
          .boxed()
          .sorted(Comparator.comparingInt(index -> costLeft(trains.get(index))))
          .anyMatch(index -> succeedsByMoving(index, trains));
    }

    private boolean succeedsByMoving(int index, List<Claim> trains) {
      Claim train = trains.get(index);
      if (isThrough(train)) {
        return train.beginsAgain() && succeeds(with(index, begun(train), trains));
      }
      BitSet taken = takenByOthers(index, trains);
      for (Move move : train.itinerary().onwards(train.stand(), train.goal())) {
        if (!move.needs().intersects(taken)
            && succeeds(with(index, moved(train, move.to()), trains))) {
          return true;
        }
      }
      return false;
    }

    /** One that is through counts as farthest from its end: it is moved only if need be. */
    private static int costLeft(Claim train) {
      return isThrough(train)
          ? Integer.MAX_VALUE
          : train.itinerary().cost(train.stand(), train.goal());
    }

    private static boolean isThrough(Claim train) {
      return train.goal() == train.itinerary().goals().size();
    }

    /** All work is done that can be done where trains stand, and who is to be lifted is gone. */
    private static List<Claim> settled(List<Claim> trains) {
      List<Claim> settled = new ArrayList<>(trains);
      boolean changed = true;
      while (changed) {
        changed = false;
        for (int index = 0; index < settled.size(); index++) {
          Claim train = settled.get(index);
          if (isDoneWithGoal(index, settled)) {
            settled.set(index, at(train, train.stand(), train.goal() + 1, train.beginsAgain()));
            changed = true;
          }
        }
        changed |= settled.removeIf(train -> isThrough(train) && train.isLifted());
      }
      return settled;
    }

    private static boolean isDoneWithGoal(int index, List<Claim> trains) {
      Claim train = trains.get(index);
      return !isThrough(train)
          && train.itinerary().isMet(train.stand(), train.goal())
          && !train
              .itinerary()
              .goals()
              .get(train.goal())
              .needs()
              .intersects(takenByOthers(index, trains));
    }

    private static BitSet takenByOthers(int index, List<Claim> trains) {
      BitSet taken = new BitSet();
      for (int other = 0; other < trains.size(); other++) {
        if (other != index) {
          taken.or(trains.get(other).stand().covers());
        }
      }
      return taken;
    }

    private static List<Claim> with(int index, Claim train, List<Claim> trains) {
      List<Claim> next = new ArrayList<>(trains);
      next.set(index, train);
      return next;
    }

    private static Claim begun(Claim train) {
      return at(train, train.stand(), 0, false);
    }

    private static Claim moved(Claim train, Stand to) {
      return at(train, to, train.goal(), train.beginsAgain());
    }

    private static Claim at(Claim train, Stand stand, int goal, boolean beginsAgain) {
      return new Claim(
          train.train(), train.itinerary(), stand, goal, beginsAgain, train.isLifted());
    }

    /** Four characters a train, which say all that is not the same for ever. */
    private static String key(List<Claim> trains) {
      StringBuilder key = new StringBuilder();
      for (Claim train : trains) {
        key.append((char) train.train())
            .append((char) train.stand().number())
            .append((char) train.goal())
            .append(train.beginsAgain() ? '+' : '-');
      }
      return key.toString();
    }
  }
}
