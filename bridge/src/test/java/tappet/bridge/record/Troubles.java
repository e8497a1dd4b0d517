package tappet.bridge.record;

import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;

/** What people would be told of a book, in order. */
public final class Troubles implements Trouble {

  private final List<String> told = new CopyOnWriteArrayList<>();

  @Override
  public void arises(String what) {
    told.add(what);
  }

  @Override
  public void over() {
    told.add("over");
  }

  @Override
  public void happened(String what) {
    told.add("happened: " + what);
  }

  /** So far; it goes on. */
  public List<String> told() {
    return told;
  }
}
