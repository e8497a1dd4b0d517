package tappet.bridge.box;

import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.interlocking.Step;
import tappet.lcc.CanFrame;

/** Lets nothing that goes wrong with who only listens come back to the box. */
final class ListenerGuard implements BoxListener {

  private static final Logger LOG = LoggerFactory.getLogger(ListenerGuard.class);

  private final BoxListener listener;
  private boolean told;

  ListenerGuard(BoxListener listener) {
    this.listener = listener;
  }

  @Override
  public void frameHeard(String origin, CanFrame frame) {
    guarded(() -> listener.frameHeard(origin, frame));
  }

  @Override
  public void frameSent(CanFrame frame) {
    guarded(() -> listener.frameSent(frame));
  }

  @Override
  public void stepped(Step step) {
    guarded(() -> listener.stepped(step));
  }

  @Override
  public void changed(String what) {
    guarded(() -> listener.changed(what));
  }

  @Override
  public void alarmRaised(String what) {
    guarded(() -> listener.alarmRaised(what));
  }

  @Override
  public void alarmCleared(String what) {
    guarded(() -> listener.alarmCleared(what));
  }

  /** The first fault is logged whole, no other: they may come a frame. */
  private void guarded(Runnable call) {
    try {
      call.run();
    } catch (RuntimeException e) {
      if (!told) {
        LOG.error("A listener of the box failed; this is logged once", e);
        told = true;
      }
    }
  }
}
