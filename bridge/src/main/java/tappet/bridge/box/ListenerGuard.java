package tappet.bridge.box;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.interlocking.Step;
import tappet.lcc.CanFrame;

/** Tells all who listen, and lets nothing that goes wrong with them come back to the box. */
final class ListenerGuard implements BoxListener {

  private static final Logger LOG = LoggerFactory.getLogger(ListenerGuard.class);

  private final List<BoxListener> listeners = new ArrayList<>();
  private boolean told;

  ListenerGuard(BoxListener listener) {
    listeners.add(listener);
  }

  /** One more listens from now on. */
  void add(BoxListener listener) {
    listeners.add(listener);
  }

  @Override
  public void started(long nowNs) {
    tell(listener -> listener.started(nowNs));
  }

  @Override
  public void stopped(long nowNs) {
    tell(listener -> listener.stopped(nowNs));
  }

  @Override
  public void overheard(String name, long nowNs) {
    tell(listener -> listener.overheard(name, nowNs));
  }

  @Override
  public void connectionUp(String name, boolean asked, long nowNs) {
    tell(listener -> listener.connectionUp(name, asked, nowNs));
  }

  @Override
  public void connectionDown(String name, String why, boolean missed, long nowNs) {
    tell(listener -> listener.connectionDown(name, why, missed, nowNs));
  }

  @Override
  public void inputLost(long nowNs) {
    tell(listener -> listener.inputLost(nowNs));
  }

  @Override
  public void kept(Optional<String> whyNot, long nowNs) {
    tell(listener -> listener.kept(whyNot, nowNs));
  }

  @Override
  public void frameHeard(String origin, CanFrame frame, long nowNs) {
    tell(listener -> listener.frameHeard(origin, frame, nowNs));
  }

  @Override
  public void frameSent(CanFrame frame, long nowNs) {
    tell(listener -> listener.frameSent(frame, nowNs));
  }

  @Override
  public void stepped(Step step) {
    tell(listener -> listener.stepped(step));
  }

  @Override
  public void exchanged(String files, long nowNs) {
    tell(listener -> listener.exchanged(files, nowNs));
  }

  @Override
  public void changed(String what) {
    tell(listener -> listener.changed(what));
  }

  @Override
  public void alarmRaised(String what) {
    tell(listener -> listener.alarmRaised(what));
  }

  @Override
  public void alarmCleared(String what) {
    tell(listener -> listener.alarmCleared(what));
  }

  private void tell(Consumer<BoxListener> news) {
    for (BoxListener listener : listeners) {
      guarded(() -> news.accept(listener));
    }
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
