package tappet.interlocking;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import tappet.layout.Layout;
import tappet.layout.Switch;

/** What is taken to be so because nothing on the layout could tell. */
public final class Assumptions {

  private static final double MS_PER_SECOND = 1_000;

  private Assumptions() {}

  /** One sentence each, in the order of the layout. */
  public static List<String> of(Layout layout) {
    List<String> assumptions = new ArrayList<>();
    layout.switches().values().forEach(toe -> assumptions.addAll(of(toe)));
    return List.copyOf(assumptions);
  }

  private static List<String> of(Switch toe) {
    List<String> assumptions = new ArrayList<>();
    toe.working()
        .assumedAfter()
        .ifPresent(
            time ->
                assumptions.add(
                    "%s has no detection: it is assumed to lie where it was sent, after %s"
                        .formatted(Naming.toe(toe), seconds(time))));
    toe.lock()
        .flatMap(lock -> lock.assumedAfter())
        .ifPresent(
            time ->
                assumptions.add(
                    "the lock of %s has no detection: it is assumed to hold when told to, after %s"
                        .formatted(Naming.toe(toe), seconds(time))));
    return assumptions;
  }

  private static String seconds(Duration time) {
    double seconds = time.toMillis() / MS_PER_SECOND;
    return seconds == Math.rint(seconds) ? (long) seconds + " s" : seconds + " s";
  }
}
