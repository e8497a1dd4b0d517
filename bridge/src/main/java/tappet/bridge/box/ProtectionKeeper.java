package tappet.bridge.box;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.concurrent.CompletableFuture;
import java.util.function.BiConsumer;
import java.util.function.BiFunction;
import tappet.interlocking.Answer;
import tappet.interlocking.Interlocking;
import tappet.interlocking.KeptProtections;
import tappet.network.Explanation;
import tappet.sentence.Command;

/**
 * Sees that nobody is told of a protection that a restart would forget. What is given is in force
 * at once, kept, and only then confirmed; what is given up stays in force until the store no longer
 * has it. If the store fails, what is given is taken back and what stands goes on standing.
 *
 * <p>One order after the other: the store has always all of it or, while it writes, all but one.
 */
final class ProtectionKeeper {

  /** How soon the store is tried again after it failed. */
  static final long TRY_AGAIN_NS = 5_000_000_000L;

  /** More than dispatchers ask while one order is written. */
  static final int WAITING_MAX = 32;

  private static final String CANNOT_BE_KEPT = "the protection of people cannot be kept";
  private static final Answer TOO_MANY =
      refused("too many orders wait to be kept", "ask again in a moment");

  private record Order(Command.OfProtection command, CompletableFuture<Answer> reply) {}

  /**
   * The store at work.
   *
   * @param order what it is for; empty where only the present state is written once more
   * @param answer what its asker is told when it is kept, where that is known already
   */
  private record Writing(
      Optional<Order> order, Optional<Answer> answer, CompletableFuture<Optional<String>> result) {}

  private Interlocking interlocking;
  private final ProtectionStore store;
  private final Alarms alarms;
  private final BiFunction<Command, Long, Answer> carryOut;
  private final BiConsumer<Optional<String>, Long> done;
  private final Deque<Order> waiting = new ArrayDeque<>();
  private Optional<Writing> writing = Optional.empty();
  private OptionalLong writeNs = OptionalLong.empty();

  /**
   * @param carryOut takes a command to the interlocking
   * @param done is told each time the store is, why it could not keep what it was given, and when
   */
  ProtectionKeeper(
      Interlocking interlocking,
      ProtectionStore store,
      Alarms alarms,
      BiFunction<Command, Long, Answer> carryOut,
      BiConsumer<Optional<String>, Long> done) {
    this.interlocking = interlocking;
    this.store = store;
    this.alarms = alarms;
    this.carryOut = carryOut;
    this.done = done;
  }

  /** Writes what was found, so that a store that does not work is known before it is needed. */
  void start(long nowNs) {
    writeNs = OptionalLong.of(nowNs);
    advance(nowNs);
  }

  /** Whether nothing is being kept, and nobody waits for that. */
  boolean isAtRest() {
    return writing.isEmpty() && waiting.isEmpty();
  }

  /** Another interlocking has taken over, with all that stood. */
  void goOn(Interlocking next) {
    interlocking = next;
  }

  /** Takes an order; the answer comes when it is kept, or refused. */
  CompletableFuture<Answer> take(Command.OfProtection command, long nowNs) {
    if (waiting.size() >= WAITING_MAX) {
      return CompletableFuture.completedFuture(TOO_MANY);
    }
    Order order = new Order(command, new CompletableFuture<>());
    waiting.add(order);
    advance(nowNs);
    return order.reply();
  }

  /** Goes on as far as the store lets it. */
  void advance(long nowNs) {
    while (storeIsFree(nowNs) && somethingToDo(nowNs)) {
      Order next = waiting.poll();
      if (next == null) {
        write(interlocking.kept(), Optional.empty(), Optional.empty());
      } else if (next.command() instanceof Command.EndProtection end) {
        beginToEnd(end, next, nowNs);
      } else {
        protect(next, nowNs);
      }
    }
  }

  /** When {@link #advance} is next needed, besides when the store is done. */
  OptionalLong deadlineNs() {
    return writing.isPresent() ? OptionalLong.empty() : writeNs;
  }

  private boolean storeIsFree(long nowNs) {
    Optional<Writing> done = writing.filter(work -> work.result().isDone());
    done.ifPresent(
        work -> {
          writing = Optional.empty();
          finish(work, nowNs);
        });
    return writing.isEmpty();
  }

  private boolean somethingToDo(long nowNs) {
    return !waiting.isEmpty() || (writeNs.isPresent() && writeNs.getAsLong() <= nowNs);
  }

  private void protect(Order order, long nowNs) {
    Answer answer = carryOut.apply(order.command(), nowNs);
    if (answer.granted()) {
      write(interlocking.kept(), Optional.of(order), Optional.of(answer));
    } else {
      order.reply().complete(answer);
    }
  }

  private void beginToEnd(Command.EndProtection command, Order order, long nowNs) {
    KeptProtections after = interlocking.keptAfter(command);
    if (after.equals(interlocking.kept())) {
      order.reply().complete(carryOut.apply(command, nowNs));
    } else {
      write(after, Optional.of(order), Optional.empty());
    }
  }

  private void write(KeptProtections all, Optional<Order> order, Optional<Answer> answer) {
    writeNs = OptionalLong.empty();
    writing = Optional.of(new Writing(order, answer, store.keep(all)));
  }

  private void finish(Writing work, long nowNs) {
    Optional<String> whyNot = work.result().exceptionally(e -> Optional.of(e.toString())).join();
    done.accept(whyNot, nowNs);
    if (whyNot.isPresent()) {
      storeFailed(whyNot.get(), nowNs);
    } else {
      alarms.clear(CANNOT_BE_KEPT);
    }
    work.order()
        .ifPresent(
            order ->
                order
                    .reply()
                    .complete(
                        whyNot
                            .map(why -> takeBack(order.command(), why, nowNs))
                            .orElseGet(() -> confirm(order, work.answer(), nowNs))));
  }

  private Answer confirm(Order order, Optional<Answer> given, long nowNs) {
    Answer answer = given.orElseGet(() -> carryOut.apply(order.command(), nowNs));
    if (!answer.granted()) {
      writeNs = OptionalLong.of(nowNs);
    }
    return answer;
  }

  /** The store may hold the one or the other now: it is given what stands until it takes it. */
  private void storeFailed(String why, long nowNs) {
    String alarm = CANNOT_BE_KEPT + " over a restart: " + why;
    if (!alarms.standing().contains(alarm)) {
      alarms.clear(CANNOT_BE_KEPT);
      alarms.raise(alarm);
    }
    writeNs = OptionalLong.of(nowNs + TRY_AGAIN_NS);
  }

  private Answer takeBack(Command.OfProtection command, String why, long nowNs) {
    if (command instanceof Command.Protect given) {
      boolean takenBack = carryOut.apply(opposite(given), nowNs).granted();
      String outcome = takenBack ? "so nobody is protected by it" : "cannot be taken back either";
      return refused("it cannot be kept over a restart, and " + outcome, why);
    }
    return refused("it cannot be kept over a restart that this has ended, and so it stands", why);
  }

  private static Command opposite(Command.Protect given) {
    if (given instanceof Command.GrantPermit grant) {
      return new Command.ReturnPermit(grant.holder(), grant.place());
    }
    if (given instanceof Command.Block block) {
      return new Command.Unblock(block.device(), block.id(), block.place());
    }
    Command.Flag flag = (Command.Flag) given;
    return new Command.Unflag(flag.section(), flag.holder(), flag.place());
  }

  private static Answer refused(String clause, String because) {
    return new Answer(false, new Explanation(clause, List.of(Explanation.fact(because))));
  }
}
