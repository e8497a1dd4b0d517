package tappet.network;

/**
 * Nodes waiting to be looked at, lowest level first, each once. A node may only be added while one
 * of a lower level is looked at or the queue is empty, so that one pass over the levels sees them
 * all.
 */
final class LevelQueue {

  private final int[] level;
  private final IntStack[] waiting;
  private final boolean[] held;
  private int lowest;

  LevelQueue(int[] level, int levels) {
    this.level = level;
    this.waiting = new IntStack[levels];
    for (int index = 0; index < levels; index++) {
      waiting[index] = new IntStack();
    }
    this.held = new boolean[level.length];
    this.lowest = levels;
  }

  void add(int node) {
    if (!held[node]) {
      held[node] = true;
      waiting[level[node]].push(node);
      lowest = Math.min(lowest, level[node]);
    }
  }

  /** The next node, or -1 if there is none. */
  int poll() {
    while (lowest < waiting.length) {
      if (!waiting[lowest].isEmpty()) {
        int node = waiting[lowest].pop();
        held[node] = false;
        return node;
      }
      lowest++;
    }
    return -1;
  }
}
