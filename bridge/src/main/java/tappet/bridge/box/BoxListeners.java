package tappet.bridge.box;

import java.util.List;
import tappet.interlocking.Step;
import tappet.lcc.CanFrame;

/** Several who hear what goes on in the box, one after the other. */
public record BoxListeners(List<BoxListener> all) implements BoxListener {

  public BoxListeners {
    all = List.copyOf(all);
  }

  @Override
  public void frameHeard(String origin, CanFrame frame) {
    all.forEach(listener -> listener.frameHeard(origin, frame));
  }

  @Override
  public void frameSent(CanFrame frame) {
    all.forEach(listener -> listener.frameSent(frame));
  }

  @Override
  public void stepped(Step step) {
    all.forEach(listener -> listener.stepped(step));
  }

  @Override
  public void changed(String what) {
    all.forEach(listener -> listener.changed(what));
  }

  @Override
  public void alarmRaised(String what) {
    all.forEach(listener -> listener.alarmRaised(what));
  }

  @Override
  public void alarmCleared(String what) {
    all.forEach(listener -> listener.alarmCleared(what));
  }
}
