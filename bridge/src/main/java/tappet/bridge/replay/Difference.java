package tappet.bridge.replay;

import java.util.List;

/**
 * Something that was otherwise than it is now.
 *
 * @param timeUs when, in microseconds since 1970-01-01 00:00 UTC
 * @param line the line of the recording that is nearest
 * @param about what, in the owner's words
 * @param then what was said then
 * @param now what is said now
 * @param why what the box says about it now; empty where it says nothing
 */
public record Difference(
    long timeUs, int line, String about, String then, String now, List<String> why) {

  public Difference {
    why = List.copyOf(why);
  }
}
