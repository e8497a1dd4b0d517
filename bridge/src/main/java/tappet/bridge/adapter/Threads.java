package tappet.bridge.adapter;

/** Threads for what may block, and so has no place on the hub's event loop. */
final class Threads {

  private Threads() {}

  /** Starts a thread that does not keep the program alive. */
  static Thread start(String name, Runnable task) {
    Thread thread = new Thread(task, name);
    thread.setDaemon(true);
    thread.start();
    return thread;
  }
}
