package tappet.bridge.view;

import java.util.List;
import java.util.Map;

/**
 * What people have written on the chart, as it outlives the daemon.
 *
 * @param trains what trains are called, in the order in which they got their names
 * @param seen the alarms that somebody has acknowledged
 * @param asked what crews ask, in the order in which they asked
 * @param releases who has hand-thrown switches, by switch
 */
public record KeptChart(
    List<Train> trains, List<Seen> seen, List<Asked> asked, Map<String, String> releases) {

  /** Nothing is written on it. */
  public static final KeptChart BLANK = new KeptChart(List.of(), List.of(), List.of(), Map.of());

  /**
   * A train with a name.
   *
   * @param on the sections it is on, from the one it came to first; at least one
   * @param lost the last of them was clear, and no next one occupied
   */
  public record Train(String name, List<String> on, boolean lost) {

    public Train {
      on = List.copyOf(on);
    }
  }

  /**
   * An alarm that somebody has acknowledged.
   *
   * @param sinceMs since when it stands, in milliseconds since 1970
   */
  public record Seen(String alarm, long sinceMs, String by) {}

  /**
   * A crew asks the dispatcher to say a sentence.
   *
   * @param atMs when, in milliseconds since 1970
   */
  public record Asked(long number, String holder, String sentence, long atMs) {}

  public KeptChart {
    trains = List.copyOf(trains);
    seen = List.copyOf(seen);
    asked = List.copyOf(asked);
    releases = Map.copyOf(releases);
  }
}
