package tappet.bridge.web;

import io.netty.channel.Channel;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** The connections of one port, of which only so many are open at once. On its event loop. */
final class OpenConnections {

  /** More than all pages and command lines of a large club need. */
  static final int MAX = 500;

  private static final Logger LOG = LoggerFactory.getLogger(OpenConnections.class);

  private final String whom;
  private final int most;
  private int open;
  private boolean told;

  /**
   * @param whom who asks there
   * @param most how many at once
   */
  OpenConnections(String whom, int most) {
    this.whom = whom;
    this.most = most;
  }

  /** Counts one more, until it closes; false where there are too many, which is told once. */
  boolean admit(Channel channel) {
    if (open >= most) {
      tellOnce();
      return false;
    }
    open++;
    channel.closeFuture().addListener(closed -> left());
    return true;
  }

  private void tellOnce() {
    if (!told) {
      told = true;
      LOG.warn("{} connections for {} are open; more are closed at once", most, whom);
    }
  }

  /** When most are gone, the next time is another matter. */
  private void left() {
    open--;
    if (open <= most / 2) {
      told = false;
    }
  }
}
