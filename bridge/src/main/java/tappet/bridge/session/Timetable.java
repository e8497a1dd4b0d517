package tappet.bridge.session;

import java.util.List;
import java.util.Optional;
import tappet.simulator.session.ListedTrain.Start;

/** Plans the runs of trains, one at a time, and says which are due. */
final class Timetable {

  private final List<Crew> crews;
  private final FastTime clock;

  Timetable(List<Crew> crews, FastTime clock) {
    this.crews = crews;
    this.clock = clock;
  }

  /** Whether a run is planned for now or earlier that has not been made. */
  boolean isDue(Crew crew) {
    if (crew.runs().size() == crew.runsEnded()) {
      nextMinute(crew).ifPresent(crew::plan);
    }
    return crew.runs().size() > crew.runsEnded()
        && lastRun(crew).plannedMinute() <= clock.minutes();
  }

  private static Run lastRun(Crew crew) {
    return crew.runs().get(crew.runs().size() - 1);
  }

  /** When its next run is planned; empty where there is none, or it is not known yet. */
  private Optional<Long> nextMinute(Crew crew) {
    return crew.train().start() instanceof Start.After after
        ? minuteAfter(crew, after.train().name())
        : earliestMinute(crew);
  }

  /** Its runs follow those of the other, one each. */
  private Optional<Long> minuteAfter(Crew crew, String other) {
    return earliestMinute(crew)
        .filter(minute -> named(other).runsEnded() > crew.runs().size())
        .map(minute -> Math.max(minute, clock.minutes()));
  }

  private Optional<Long> earliestMinute(Crew crew) {
    if (crew.runs().isEmpty()) {
      return Optional.of(firstMinute(crew.train().start()));
    }
    return crew.train().again().map(later -> lastRun(crew).plannedMinute() + later.toMinutes());
  }

  private long firstMinute(Start start) {
    return start instanceof Start.At at
        ? clock.firstAt(at.time().hour() * 60 + at.time().minute())
        : 0;
  }

  private Crew named(String name) {
    return crews.stream().filter(crew -> crew.name().equals(name)).findFirst().orElseThrow();
  }
}
