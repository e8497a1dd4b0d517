package tappet.bridge.session;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Locale;

/** What happens in a session, a line each: when, in seconds of the railroad's time, and what. */
public final class Journal {

  private static final double NS_PER_SECOND = 1e9;

  private final Appendable out;
  private long nowNs;

  /**
   * @param out takes the lines
   */
  public Journal(Appendable out) {
    this.out = out;
  }

  /** What is noted from here on happens now. */
  public void turnTo(long now) {
    nowNs = now;
  }

  /** Writes a line; a text of several becomes one. */
  public void note(String what) {
    try {
      out.append(String.format(Locale.ROOT, "%.3f  ", nowNs / NS_PER_SECOND))
          .append(what.strip().replaceAll("\\s*\\R\\s*", " "))
          .append('\n');
    } catch (IOException e) {
      throw new UncheckedIOException("the journal cannot be written", e);
    }
  }
}
