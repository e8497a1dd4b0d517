package tappet.bridge;

import tappet.bridge.box.BoxThread;
import tappet.bridge.record.Trouble;

/** Trouble with a book, or with a broker, is an alarm of the box. */
final class BoxTrouble implements Trouble {

  private final BoxThread box;
  private final String name;

  /**
   * @param name what people know it by
   */
  BoxTrouble(BoxThread box, String name) {
    this.box = box;
    this.name = name;
  }

  @Override
  public void arises(String what) {
    box.trouble(name, what);
  }

  @Override
  public void over() {
    box.troubleOver(name);
  }

  /** Its alarm stands for as long as the daemon runs: nothing that comes undoes it. */
  @Override
  public void happened(String what) {
    box.trouble("before this start, " + name, what);
  }
}
