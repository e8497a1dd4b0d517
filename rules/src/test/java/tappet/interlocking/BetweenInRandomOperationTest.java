package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.layout.Position.NORMAL;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;

/**
 * Trains that obey signals run over the line between control points while anything is asked. What
 * must never be is written from the plan alone: no two trains in one section but where one was
 * called on, and no two signals that lead toward each other over one line.
 */
class BetweenInRandomOperationTest {

  private static final long SEED = Long.getLong("seed", 20_261_125L);
  private static final int ROUNDS = 20_000;

  /** By signal: the sections it leads into, each way of the switch, in order of travel. */
  private static final Map<String, List<String>> EASTWARD =
      Map.of("b2e", List.of("mid-1"), "m2e", List.of("mid-2"));

  private static final Map<String, List<String>> WESTWARD =
      Map.of("d2w", List.of("mid-2"), "g2w", List.of("mid-2"), "m2w", List.of("mid-1"));

  private static final List<String> SENTENCES =
      List.of(
          "line b2e to m2e",
          "fleet b2e to m2e",
          "stack b2e to m2e",
          "line d2w to m2w",
          "stack d2w to m2w",
          "line g2w to m2w",
          "fleet g2w to m2w",
          "line c4e to e",
          "call on c4e to e",
          "line c4e to h",
          "fleet c4e to h",
          "line b4w to a",
          "cancel b2e",
          "cancel d2w",
          "cancel g2w",
          "cancel c4e",
          "cancel b4w",
          "unfleet b2e",
          "unstack d2w",
          "set traffic middle east",
          "set traffic middle west",
          "throw e1 normal",
          "throw e1 reverse");

  /** A train: the sections it stands in, its front first, and the way it runs. */
  private static final class Mover {
    final List<String> stands = new ArrayList<>();
    final boolean east;

    Mover(String section, boolean east) {
      stands.add(section);
      this.east = east;
    }

    String front() {
      return stands.get(0);
    }
  }

  private final Random random = new Random(SEED);
  private final Desk desk = Between.desk();
  private final List<Mover> trains = new ArrayList<>();
  private final Map<String, Integer> arrivals = new LinkedHashMap<>();

  // F.1 S1, S6, S7, S11; H.1, H.6, H.10.
  @Test
  void noTwoTrainsMeet() {
    System.out.println("trains between control points with -Dseed=" + SEED);
    for (int round = 0; round < ROUNDS; round++) {
      enter("west", true);
      enter("east", false);
      enter("pocket", false);
      desk.tell(SENTENCES.get(random.nextInt(SENTENCES.size())));
      checkSignals(round);
      for (Mover train : List.copyOf(trains)) {
        if (random.nextInt(3) == 0) {
          move(train, round);
        }
      }
      desk.pass(random.nextInt(4));
      checkSignals(round);
    }
    assertEquals(new TreeSet<>(List.of("a", "e", "h")), new TreeSet<>(arrivals.keySet()));
    assertTrue(arrivals.values().stream().allMatch(count -> count > 10), arrivals::toString);
  }

  /** Trains come only at the boundary, and only where no other may come (F.3 P10). */
  private void enter(String section, boolean east) {
    boolean expected =
        desk.table.routes().values().stream()
            .filter(row -> row.path().contains(section))
            .anyMatch(row -> desk.locked(row.id()));
    if (random.nextInt(10) == 0 && isFree(section) && !expected) {
      trains.add(new Mover(section, east));
      desk.occupy(section);
    }
  }

  /** A train draws its rear up, or passes a signal that proceeds, or leaves by the boundary. */
  private void move(Mover train, int round) {
    if (train.stands.size() > 1) {
      leave(train.stands.remove(1));
      return;
    }
    String ahead = ahead(train);
    if (givesUp(train)) {
      trains.remove(train);
      leave(train.front());
    } else if (ahead.isEmpty()) {
      arrivals.merge(end(train.front()), 1, Integer::sum);
      trains.remove(train);
      leave(train.front());
    } else if (mayEnter(train, ahead)) {
      require(round, joinsAnother(train, ahead) || isFree(ahead), "two trains in " + ahead);
      train.stands.add(0, ahead);
      desk.occupy(ahead);
    }
  }

  /** A train at the boundary goes back now and then, so that it never bars the way for good. */
  private boolean givesUp(Mover train) {
    return !ahead(train).isEmpty()
        && List.of("west", "east", "pocket").contains(train.front())
        && random.nextInt(20) == 0;
  }

  private void leave(String section) {
    if (isFree(section)) {
      desk.clear(section);
    }
  }

  /** Two trains in the same end track are one train from then on: they were coupled. */
  private boolean joinsAnother(Mover train, String ahead) {
    return train.front().equals("east-os") && ahead.equals("east");
  }

  private boolean isFree(String section) {
    return trains.stream().noneMatch(train -> train.stands.contains(section));
  }

  private String ahead(Mover train) {
    boolean normal = desk.lie("e1").equals(Optional.of(NORMAL));
    return switch (train.front()) {
      case "west" -> train.east ? "mid-1" : "";
      case "mid-1" -> train.east ? "mid-2" : "west";
      case "mid-2" -> train.east ? "east-os" : "mid-1";
      case "east-os" -> train.east ? (normal ? "east" : "pocket") : "mid-2";
      default -> train.east ? "" : "east-os";
    };
  }

  private static String end(String section) {
    return Map.of("west", "a", "east", "e", "pocket", "h").get(section);
  }

  private boolean mayEnter(Mover train, String ahead) {
    String signal =
        switch (train.front() + " " + ahead) {
          case "west mid-1" -> "b2e";
          case "mid-1 mid-2" -> "m2e";
          case "mid-2 east-os" -> "c4e";
          case "east east-os" -> "d2w";
          case "pocket east-os" -> "g2w";
          case "mid-2 mid-1" -> "m2w";
          case "mid-1 west" -> "b4w";
          default -> "";
        };
    return signal.isEmpty() || desk.proceeds(signal);
  }

  /** A signal that proceeds over the line, against one that does or against a train that runs. */
  private void checkSignals(int round) {
    boolean east = EASTWARD.keySet().stream().anyMatch(desk::proceeds);
    boolean west = WESTWARD.keySet().stream().anyMatch(desk::proceeds);
    require(round, !(east && west), "signals lead toward each other");
    for (Mover train : trains) {
      boolean onLine = train.stands.stream().anyMatch(List.of("mid-1", "mid-2")::contains);
      require(
          round,
          !onLine || (train.east ? !west : !east),
          "a signal leads toward the train in " + train.stands);
    }
  }

  private void require(int round, boolean holds, String violation) {
    assertTrue(holds, () -> "seed %d, round %d: %s".formatted(SEED, round, violation));
  }
}
