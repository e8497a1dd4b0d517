package tappet.lcc;

import java.util.ArrayDeque;
import java.util.List;
import java.util.Map;
import java.util.Queue;
import java.util.TreeMap;
import java.util.function.Consumer;

/**
 * Sends datagrams: one at a time to each node, until it has answered or 3 s have passed (S-9.7.3.2
 * §6.1, S-9.7.3 §3.7). One refused for the time being is sent again, {@value #TRIES_MAX} times in
 * all and with growing pauses; one refused for good never (§6.2). Nor is one that was not answered:
 * what it asked for may have been done, so whoever wanted it has to decide.
 */
final class DatagramSender {

  static final int TRIES_MAX = 4;
  static final int WAITING_MAX = 4;
  static final int DESTINATIONS_MAX = 64;
  static final long ANSWER_NS = 3_000_000_000L;
  private static final long FIRST_PAUSE_NS = 100_000_000L;

  private final Voice voice;
  private final Map<Integer, Queue<Outgoing>> queues = new TreeMap<>();

  private static final class Outgoing {
    private final Bytes content;
    private final Consumer<DatagramOutcome> outcome;
    private int tries;
    private boolean pausing;
    private long dueNs;

    Outgoing(Bytes content, Consumer<DatagramOutcome> outcome) {
      this.content = content;
      this.outcome = outcome;
    }
  }

  DatagramSender(Voice voice) {
    this.voice = voice;
  }

  /** Whether {@link #send} would take one more. */
  boolean hasRoom(int destination) {
    Queue<Outgoing> queue = queues.get(destination);
    return queue == null ? queues.size() < DESTINATIONS_MAX : queue.size() < WAITING_MAX;
  }

  /** False, and nothing is sent, if too much is waiting already. */
  boolean send(int destination, Bytes content, Consumer<DatagramOutcome> outcome, long nowNs) {
    if (!hasRoom(destination)) {
      return false;
    }
    Queue<Outgoing> queue = queues.computeIfAbsent(destination, alias -> new ArrayDeque<>());
    queue.add(new Outgoing(content, outcome));
    if (queue.size() == 1) {
      transmit(destination, queue.element(), nowNs);
    }
    return true;
  }

  void receivedOk(int source, int flags, long nowNs) {
    if (isAwaited(source)) {
      finish(source, new DatagramOutcome(DatagramOutcome.End.DELIVERED, flags), nowNs);
    }
  }

  void rejected(int source, int errorCode, long nowNs) {
    if (!isAwaited(source)) {
      return;
    }
    Outgoing outgoing = queues.get(source).element();
    if (ErrorCode.isTemporary(errorCode) && outgoing.tries < TRIES_MAX) {
      outgoing.pausing = true;
      outgoing.dueNs = nowNs + (FIRST_PAUSE_NS << outgoing.tries);
    } else {
      finish(source, new DatagramOutcome(DatagramOutcome.End.REFUSED, errorCode), nowNs);
    }
  }

  /** The other node has given up its alias, or started anew. */
  void forget(int destination) {
    Queue<Outgoing> queue = queues.remove(destination);
    if (queue != null) {
      queue.forEach(DatagramSender::breakOff);
    }
  }

  void clear() {
    List.copyOf(queues.keySet()).forEach(this::forget);
  }

  void advance(long nowNs) {
    if (queues.isEmpty()) {
      return;
    }
    for (int destination : List.copyOf(queues.keySet())) {
      Queue<Outgoing> queue = queues.get(destination);
      if (queue != null && nowNs - queue.element().dueNs >= 0) {
        act(destination, queue.element(), nowNs);
      }
    }
  }

  /** {@link LccNode#NEVER} if there is none. */
  long deadlineNs() {
    long first = LccNode.NEVER;
    for (Queue<Outgoing> queue : queues.values()) {
      first = Math.min(first, queue.element().dueNs);
    }
    return first;
  }

  private void act(int destination, Outgoing outgoing, long nowNs) {
    if (outgoing.pausing) {
      transmit(destination, outgoing, nowNs);
    } else {
      finish(destination, new DatagramOutcome(DatagramOutcome.End.UNANSWERED, 0), nowNs);
    }
  }

  private boolean isAwaited(int source) {
    Queue<Outgoing> queue = queues.get(source);
    return queue != null && !queue.element().pausing;
  }

  private void finish(int destination, DatagramOutcome outcome, long nowNs) {
    Queue<Outgoing> queue = queues.get(destination);
    Outgoing ended = queue.remove();
    if (queue.isEmpty()) {
      queues.remove(destination);
    } else {
      transmit(destination, queue.element(), nowNs);
    }
    ended.outcome.accept(outcome);
  }

  private static void breakOff(Outgoing outgoing) {
    outgoing.outcome.accept(new DatagramOutcome(DatagramOutcome.End.BROKEN_OFF, 0));
  }

  private void transmit(int destination, Outgoing outgoing, long nowNs) {
    outgoing.tries++;
    outgoing.pausing = false;
    outgoing.dueNs = nowNs + ANSWER_NS;
    DatagramFrames.of(voice.alias(), destination, outgoing.content).forEach(voice::say);
  }
}
