package tappet.simulator.session;

import java.util.List;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Time;

/**
 * An operating session: its clock and its trains. All times in it are those of the fast clock.
 *
 * @param name the owner's name for it
 * @param clock the fast clock by which it runs
 * @param trains the trains, in the order of the file
 */
public record TrainList(String name, Clock clock, List<ListedTrain> trains) {

  public TrainList {
    trains = List.copyOf(trains);
  }

  /**
   * The fast clock.
   *
   * @param rate how fast it runs, above 0
   * @param start what it shows when the session begins
   */
  public record Clock(Rate rate, Time start) {

    /** Minutes of the fast clock in a minute of the railroad. */
    public double minutesPerMinute() {
      return rate.quarters() / 4.0;
    }

    /** The start, in minutes of the day. */
    public int startMinute() {
      return start.hour() * 60 + start.minute();
    }
  }
}
