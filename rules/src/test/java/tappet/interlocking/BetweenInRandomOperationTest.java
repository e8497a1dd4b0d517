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
 * called on, no two signals that lead toward each other over one line, and none that leads into the
 * overlap of another.
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
          "line a2e to b2e",
          "line a2e to b2e",
          "cancel a2e",
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
          "line b4w to y",
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
  private Desk desk;
  private final List<Mover> trains = new ArrayList<>();
  private final Map<String, Integer> arrivals = new LinkedHashMap<>();

  // F.1 S1, S6, S7, S11; H.1, H.6, H.10.
  @Test
  void noTwoTrainsMeet() {
    desk = Between.desk();
    noTwoTrainsMeetComingFrom("west", "a");
  }

  // 49 CFR 236.773; H.13.
  @Test
  void noTwoTrainsMeetWhereAnOverlapReachesOverTheLine() {
    desk = Between.overlapped();
    noTwoTrainsMeetComingFrom("outer", "y");
  }

  private void noTwoTrainsMeetComingFrom(String boundary, String westEnd) {
    System.out.println("trains between control points with -Dseed=" + SEED);
    for (int round = 0; round < ROUNDS; round++) {
      enter(boundary, true);
      enter("east", false);
      enter("pocket", false);
      tell(SENTENCES.get(random.nextInt(SENTENCES.size())), round);
      checkSignals(round);
      for (Mover train : List.copyOf(trains)) {
        if (random.nextInt(3) == 0) {
          move(train, round);
        }
      }
      desk.pass(random.nextInt(4));
      checkSignals(round);
    }
    assertEquals(new TreeSet<>(List.of(westEnd, "e", "h")), new TreeSet<>(arrivals.keySet()));
    assertTrue(arrivals.values().stream().allMatch(count -> count > 10), arrivals::toString);
  }

  /** Lining a route takes no signal away from a train that may have seen it (49 CFR 236.305). */
  private void tell(String sentence, int round) {
    List<String> before = desk.proceeding();
    desk.tell(sentence);
    boolean mayPutBack = sentence.startsWith("cancel");
    require(
        round,
        mayPutBack || desk.proceeding().containsAll(before),
        sentence + " puts one of " + before + " back");
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
        && List.of("outer", "west", "east", "pocket").contains(train.front())
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
      case "outer" -> train.east ? "west" : "";
      case "west" -> train.east ? "mid-1" : overlapped() ? "outer" : "";
      case "mid-1" -> train.east ? "mid-2" : "west";
      case "mid-2" -> train.east ? "east-os" : "mid-1";
      case "east-os" -> train.east ? (normal ? "east" : "pocket") : "mid-2";
      default -> train.east ? "" : "east-os";
    };
  }

  private static String end(String section) {
    return Map.of("outer", "y", "west", "a", "east", "e", "pocket", "h").get(section);
  }

  private boolean mayEnter(Mover train, String ahead) {
    String signal =
        switch (train.front() + " " + ahead) {
          case "outer west" -> "a2e";
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
    require(round, !(runsPastTheHeadBlock() && desk.proceeds("m2w")), "m2w leads into an overlap");
    for (Mover train : trains) {
      boolean onLine = train.stands.stream().anyMatch(List.of("mid-1", "mid-2")::contains);
      require(
          round,
          !onLine || (train.east ? !west : !east),
          "a signal leads toward the train in " + train.stands);
    }
  }

  /** A train has been let to the head block signal, or may not stand at it yet. */
  private boolean runsPastTheHeadBlock() {
    return overlapped() && (desk.proceeds("a2e") || desk.locked("a2e-b2e"));
  }

  private boolean overlapped() {
    return desk.layout.signals().containsKey("a2e");
  }

  private void require(int round, boolean holds, String violation) {
    assertTrue(holds, () -> "seed %d, round %d: %s".formatted(SEED, round, violation));
  }
}
