package tappet.simulator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.layout.TrackPlan;
import tappet.layout.Trains;
import tappet.lcc.EventId;
import tappet.lcc.Message;
import tappet.sentence.Command;
import tappet.sentence.Command.End;
import tappet.sentence.Command.Heading;
import tappet.sentence.Happening;
import tappet.sentence.Happening.Reporter;
import tappet.source.Place;

/** That steps which are passed over would have shown nothing. */
class ForesightTest {

  private static final TrackPlan PLAN =
      new TrackPlan(
          AmbroseValleyTest.PLAN
              .layout()
              .runBy(
                  new Trains(Optional.empty(), Optional.empty(), Map.of(), Optional.of(0.16)),
                  List.of()));
  private static final List<TrainSpec> SPECS =
      List.of(
          Bench.train("Extra 41", "fallow-1", Heading.EAST, 1.4),
          Bench.train("Extra 57", "west-main", Heading.EAST, 0.7),
          Bench.train("Second 7", "mid-west", Heading.WEST, 1.0));
  private static final List<String> TRAINS = SPECS.stream().map(TrainSpec::name).toList();
  private static final Place HERE = Place.inText("foresight", 1);
  private static final long STEP_NS = 20_000_000;
  private static final int ORDERS = 120;

  /** One railway under orders by chance, looked at again at every step, or only when it is due. */
  private static final class Ordered {

    private final List<String> seen = new ArrayList<>();
    private final Railway railway;
    private final SplittableRandom dice;
    private final boolean everyStep;
    private long nowNs;
    private long moments;

    Ordered(long seed, boolean everyStep) {
      this.dice = new SplittableRandom(seed);
      this.everyStep = everyStep;
      railway = new Railway(PLAN, SPECS, frame -> seen.add(nowNs + " " + frame));
      railway.start(0);
      pass(1_000_000_000);
    }

    Ordered runUnderOrders() {
      for (int order = 0; order < ORDERS; order++) {
        order();
        SPECS.forEach(this::putBackIfWrecked);
        pass(dice.nextLong(8_000_000_000L));
        railway.trains().forEach(train -> seen.add(train.toString()));
        seen.add(railway.mishaps().toString());
      }
      return this;
    }

    private void pass(long timeNs) {
      long endNs = nowNs + timeNs;
      while (nowNs < endNs) {
        long nextNs = Math.min(endNs, railway.deadlineNs().orElse(endNs));
        nowNs = everyStep ? Math.min(nextNs, (nowNs / STEP_NS + 1) * STEP_NS) : nextNs;
        railway.advance(nowNs);
        moments++;
        if (everyStep) {
          railway.pauseAtStopAndProceed(Engineer.PAUSE);
        }
      }
    }

    private void order() {
      Layout layout = PLAN.layout();
      int kind = dice.nextInt(14);
      if (kind < 3) {
        Heading heading = any(List.of(Heading.values()));
        railway.tell(new Command.Run(any(TRAINS), Optional.of(heading), HERE));
      } else if (kind < 8) {
        Signal signal = any(List.copyOf(layout.signals().values()));
        report(signal.shows().get(any(List.copyOf(signal.aspects()))));
      } else if (kind < 9) {
        railway.tell(new Command.Halt(any(TRAINS), HERE));
      } else if (kind == 10) {
        Heading heading = any(List.of(Heading.values()));
        railway.tell(
            new Command.PickUp(any(names()), any(TRAINS), Optional.of(heading), HERE, HERE));
      } else if (kind == 11) {
        Optional<End> end = Optional.of(any(List.of(End.values())));
        String cut = "Cut " + dice.nextInt(3);
        railway.tell(new Command.SetOut(1 + dice.nextInt(3), end, any(TRAINS), cut, HERE, HERE));
      } else if (kind == 12) {
        railway.happen(
            dice.nextBoolean()
                ? new Happening.SectionFlickers("mid-west", HERE)
                : new Happening.Reports(
                    Reporter.SECTION, "mid-west", new Happening.Report.Truth(), HERE));
      } else if (kind == 13) {
        befall(dice.nextInt(3));
      } else {
        report(
            any(List.copyOf(layout.switches().values())).to().get(any(List.of(Position.values()))));
      }
    }

    private void befall(int kind) {
      if (kind == 0 && names().contains("Extra 57")) {
        railway.happen(new Happening.TrainLosesBrakes("Extra 57", HERE));
      } else if (kind == 1) {
        railway.happen(new Happening.BoardBrownsOut("tilling", HERE));
      } else {
        railway.happen(new Happening.BoardReboots("tilling", HERE));
      }
    }

    private List<String> names() {
      return railway.trains().stream().map(TrainState::name).toList();
    }

    private void putBackIfWrecked(TrainSpec train) {
      if (railway.train(train.name()).stream().anyMatch(Ordered::isWrecked)) {
        railway.lift(train.name());
      }
      railway.place(train);
    }

    private static boolean isWrecked(TrainState train) {
      return train.activity() == TrainState.Activity.WRECKED;
    }

    private <T> T any(List<T> all) {
      return all.get(dice.nextInt(all.size()));
    }

    private void report(EventId event) {
      railway.receive(new Message.EventReport(0xABC, event, false).encode(), nowNs);
    }
  }

  @ParameterizedTest(name = "seed {0}")
  @ValueSource(longs = {1, 2, 3, 4})
  void nothingIsSeenOtherThanWithEveryStepTaken(long seed) {
    assertEquals(
        new Ordered(seed, true).runUnderOrders().seen,
        new Ordered(seed, false).runUnderOrders().seen);
  }

  /** Coupling is looked at in every step, and a detector that flickers wakes all. */
  @Test
  void fewStepsAreTaken() {
    Ordered everyStep = new Ordered(1, true).runUnderOrders();
    Ordered whenDue = new Ordered(1, false).runUnderOrders();
    assertTrue(
        whenDue.moments * 4 < everyStep.moments,
        whenDue.moments + " moments, of " + everyStep.moments);
  }
}
