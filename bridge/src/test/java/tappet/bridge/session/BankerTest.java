package tappet.bridge.session;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.Comparator;
import java.util.Deque;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Track is lent only where everybody can still come to an end. */
class BankerTest {

  private static final String MEET =
      """
      session: Three trains and a passing siding
      clock: {rate: 4, time: 06:00}
      trains:
        - {train: East 1, length: 1.4 m, from: fallow-1, to: corvane-main, at: 06:00, then: is lifted}
        - {train: East 2, length: 1.4 m, from: fallow-2, to: corvane-main, at: 06:00, then: is lifted}
        - {train: West, length: 1.4 m, from: corvane-main, to: fallow-1, at: 06:00, then: is lifted}
        - {train: Guest, length: 1.4 m, from: mill-branch, to: fallow-1, at: 06:00}
      """;

  private final SessionPlan plan = Lists.demo(MEET);
  private final Banker banker = new Banker();

  @Test
  void trainIsNotLetIntoTheLastTrackByWhichAnotherCouldPass() {
    List<Foresight.Claim> meet =
        List.of(at(0, "tilling-main"), at(1, "west-main"), at(2, "mid-west"));
    assertTrue(banker.everyTrainArrives(meet), "West takes the siding, and East 2 then the main");
    List<Foresight.Claim> locked =
        List.of(at(0, "tilling-main"), at(1, "tilling-siding"), at(2, "mid-west"));
    assertFalse(banker.everyTrainArrives(locked), "West and both others stand face to face");
  }

  /** One that is through and stays is in the way for ever. */
  @Test
  void trainThatStaysIsReckonedWith() {
    Foresight.Claim guest = at(3, "fallow-1");
    int through = plan.itineraries().get(3).goals().size();
    Foresight.Claim parked =
        new Foresight.Claim(3, guest.itinerary(), guest.stand(), through, false, false);
    assertFalse(banker.everyTrainArrives(List.of(at(2, "mid-west"), parked)));
    Foresight.Claim lifted =
        new Foresight.Claim(3, guest.itinerary(), guest.stand(), through, false, true);
    assertTrue(banker.everyTrainArrives(List.of(at(2, "mid-west"), lifted)));
  }

  /** A long train that hangs out over the switch of a siding leaves no way past itself. */
  @Test
  void longTrainIsReckonedWithInAllItsSections() {
    SessionPlan longPlan =
        Lists.demo(MEET.replace("East 1, length: 1.4 m", "East 1, length: 2.9 m"));
    assertEquals(
        List.of("tilling-main", "tilling-w"),
        at(longPlan, 0, "tilling-main").stand().sections(),
        "it hangs out");
    assertTrue(new Banker().everyTrainArrives(meetOfThree(plan)), "West makes room for Guest");
    assertFalse(new Banker().everyTrainArrives(meetOfThree(longPlan)), "West cannot get out");
  }

  private static List<Foresight.Claim> meetOfThree(SessionPlan plan) {
    return List.of(
        at(plan, 0, "tilling-main"), at(plan, 2, "tilling-siding"), at(plan, 3, "mid-west"));
  }

  /** Against a search that tries everything in no order at all. */
  @ParameterizedTest
  @ValueSource(strings = {"loop", "branch", "junction"})
  void answersAreThoseOfASearchThatTriesEverything(String railroad) {
    SessionPlan drafted = Lists.drafted(railroad);
    int yes = 0;
    int no = 0;
    for (int seed = 0; seed < 150; seed++) {
      List<Foresight.Claim> trains = atRandom(drafted, new SplittableRandom(seed));
      boolean expected = canAllArrive(trains);
      assertEquals(expected, new Banker().everyTrainArrives(trains), railroad + ", seed " + seed);
      yes += expected ? 1 : 0;
      no += expected ? 0 : 1;
    }
    assertTrue(yes > 5 && no > 5, "%d can and %d cannot".formatted(yes, no));
  }

  private Foresight.Claim at(int train, String section) {
    return at(plan, train, section);
  }

  /** The train on its first goal, in a section that it comes through. */
  private static Foresight.Claim at(SessionPlan plan, int train, String section) {
    Itinerary itinerary = plan.itineraries().get(train);
    Stand stand =
        onTheWay(itinerary, 0).stream()
            .filter(there -> there.section().equals(section))
            .findFirst()
            .orElseThrow();
    boolean lifted = plan.list().trains().get(train).then().isLifted();
    return new Foresight.Claim(train, itinerary, stand, 0, false, lifted);
  }

  private static Set<Stand> onTheWay(Itinerary itinerary, int goal) {
    Set<Stand> seen = new LinkedHashSet<>(List.of(itinerary.beginning()));
    Deque<Stand> open = new ArrayDeque<>(seen);
    while (!open.isEmpty()) {
      for (Move move : itinerary.onwards(open.remove(), goal)) {
        if (seen.add(move.to())) {
          open.add(move.to());
        }
      }
    }
    return seen;
  }

  private static List<Foresight.Claim> atRandom(SessionPlan plan, SplittableRandom dice) {
    List<Foresight.Claim> trains = new ArrayList<>();
    BitSet taken = new BitSet();
    for (int train = 0; train < plan.itineraries().size(); train++) {
      Itinerary itinerary = plan.itineraries().get(train);
      int goal = dice.nextInt(itinerary.goals().size());
      List<Stand> stands = new ArrayList<>(onTheWay(itinerary, goal));
      Stand stand = stands.get(dice.nextInt(stands.size()));
      if (dice.nextInt(5) > 0 && !stand.covers().intersects(taken)) {
        taken.or(stand.covers());
        trains.add(new Foresight.Claim(train, itinerary, stand, goal, false, dice.nextInt(3) == 0));
      }
    }
    return trains;
  }

  private static boolean canAllArrive(List<Foresight.Claim> trains) {
    Set<List<Foresight.Claim>> seen = new HashSet<>(Set.of(trains));
    Deque<List<Foresight.Claim>> open = new ArrayDeque<>(seen);
    while (!open.isEmpty()) {
      List<Foresight.Claim> now = open.remove();
      if (now.stream().allMatch(BankerTest::isThrough)) {
        return true;
      }
      next(now).stream().filter(seen::add).forEach(open::add);
    }
    return false;
  }

  private static boolean isThrough(Foresight.Claim train) {
    return train.goal() == train.itinerary().goals().size();
  }

  private static List<List<Foresight.Claim>> next(List<Foresight.Claim> now) {
    List<List<Foresight.Claim>> next = new ArrayList<>();
    for (Foresight.Claim train : now) {
      if (isThrough(train)) {
        continue;
      }
      List<Foresight.Claim> others = new ArrayList<>(now);
      others.remove(train);
      if (train.itinerary().isMet(train.stand(), train.goal())) {
        next.add(with(others, train, train.stand(), train.goal() + 1));
      }
      for (Move move : train.itinerary().onwards(train.stand(), train.goal())) {
        if (others.stream().noneMatch(other -> isIn(other, move))) {
          next.add(with(others, train, move.to(), train.goal()));
        }
      }
    }
    return next;
  }

  private static boolean isIn(Foresight.Claim other, Move move) {
    boolean isGone = isThrough(other) && other.isLifted();
    return !isGone && other.stand().covers().intersects(move.needs());
  }

  private static List<Foresight.Claim> with(
      List<Foresight.Claim> others, Foresight.Claim train, Stand stand, int goal) {
    List<Foresight.Claim> all = new ArrayList<>(others);
    all.add(
        new Foresight.Claim(
            train.train(), train.itinerary(), stand, goal, false, train.isLifted()));
    all.sort(Comparator.comparingInt(Foresight.Claim::train));
    return all;
  }
}
