package tappet.bridge.box;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDateTime;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import org.junit.jupiter.api.Test;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.node.Keeping;
import tappet.bridge.node.KeptState;
import tappet.interlocking.Answer;
import tappet.interlocking.KeptProtections;
import tappet.interlocking.Protection;
import tappet.lcc.CanFrame;
import tappet.sentence.Command;
import tappet.sentence.Sentences;
import tappet.source.Place;
import tappet.source.Problems;

/** Nobody is told of a protection that a restart would forget. The store is played by the test. */
class ProtectionKeeperTest {

  private static final String GRANT = "grant permit to 'Way Freight' on mill-branch";
  private static final String RETURN = "return permit of 'Way Freight'";

  private record Asked(KeptProtections all, CompletableFuture<Optional<String>> result) {}

  private final Deque<Asked> store = new ArrayDeque<>();
  private final SignalBox box =
      new SignalBox(
          DemoField.DAEMON,
          DemoField.interlocking(),
          frame -> {},
          new BoxListener() {},
          new Outfit(
              new ClockPlan.None(),
              new Keeping("", KeptState.ofNew(DemoField.DAEMON), state -> {}),
              new ProtectionKeeping(
                  KeptProtections.NONE,
                  this::keep,
                  () -> Optional.of(LocalDateTime.of(2026, 11, 25, 14, 3)))));
  private long nowNs;

  private CompletableFuture<Optional<String>> keep(KeptProtections all) {
    var result = new CompletableFuture<Optional<String>>();
    store.add(new Asked(all, result));
    return result;
  }

  /** A box in daily use whose store has taken what it found at the start. */
  private void ready() {
    box.start(nowNs);
    assertEquals(KeptProtections.NONE, store.getFirst().all());
    storeTakesIt();
    box.connectionUp("the cable", true, nowNs);
    passSeconds(1);
    for (CanFrame frame : DemoField.allClear()) {
      box.frameArrived("the cable", frame, nowNs);
    }
    passSeconds(20);
  }

  private void passSeconds(int seconds) {
    nowNs = DemoField.pass(box, nowNs, seconds);
  }

  private void storeTakesIt() {
    store.remove().result().complete(Optional.empty());
    box.advance(nowNs);
  }

  private void storeFails(String why) {
    store.remove().result().complete(Optional.of(why));
    box.advance(nowNs);
  }

  private CompletableFuture<Answer> ask(String sentence) {
    Command command =
        Sentences.command(sentence, Place.inText("sentence", 1), new Problems()).orElseThrow();
    return box.protect((Command.OfProtection) command, nowNs);
  }

  private void confirmed(String sentence) {
    var reply = ask(sentence);
    storeTakesIt();
    assertTrue(reply.join().granted());
  }

  private boolean granted(String sentence) {
    Command command =
        Sentences.command(sentence, Place.inText("sentence", 1), new Problems()).orElseThrow();
    return box.tell(command, nowNs).granted();
  }

  private static String text(CompletableFuture<Answer> reply) {
    return reply.join().explanation().text();
  }

  private List<String> stands() {
    return box.interlocking().protections().stream().map(Protection::wholeStory).toList();
  }

  // 49 CFR 214.321(c), 214.323(a): in force before it is confirmed, and kept before that.
  @Test
  void whatIsGivenIsInForceAtOnceAndConfirmedWhenItIsKept() {
    ready();
    var reply = ask(GRANT);
    assertFalse(reply.isDone());
    assertFalse(granted("line c2e to mill-end"));
    assertEquals(stands(), stories(store.getFirst().all()));
    assertEquals(List.of("permit of Way Freight on mill-branch since 2026-11-25 14:03"), stands());

    storeTakesIt();
    assertTrue(reply.join().granted());
    assertEquals("permit of Way Freight on mill-branch is granted\n", text(reply));
  }

  @Test
  void whatCannotBeKeptIsTakenBackAndRefused() {
    ready();
    var reply = ask(GRANT);
    storeFails("no space left");
    assertEquals(
        """
        it cannot be kept over a restart, and so nobody is protected by it:
          no space left
        """,
        text(reply));
    assertEquals(List.of(), stands());
    assertTrue(granted("line c2e to mill-end"));
  }

  @Test
  void whatIsGivenUpStandsUntilTheStoreHasForgottenIt() {
    ready();
    confirmed(GRANT);
    var reply = ask(RETURN);
    assertEquals(KeptProtections.NONE, store.getFirst().all());
    assertFalse(granted("line c2e to mill-end"));
    storeTakesIt();
    assertTrue(reply.join().granted());
    assertTrue(granted("line c2e to mill-end"));
  }

  @Test
  void whatTheStoreCannotForgetGoesOnStanding() {
    ready();
    confirmed(GRANT);
    var reply = ask(RETURN);
    storeFails("no space left");
    assertFalse(reply.join().granted());
    assertEquals(1, stands().size());
    assertFalse(granted("line c2e to mill-end"));
  }

  // After a failure it is not known which of the two the store holds.
  @Test
  void storeThatFailedIsGivenWhatStandsUntilItTakesIt() {
    ready();
    confirmed(GRANT);
    var refused = ask(RETURN);
    storeFails("no space left");
    assertFalse(refused.join().granted());
    String alarm = "the protection of people cannot be kept over a restart: no space left";
    assertEquals(List.of(alarm), box.alarms());
    passSeconds(4);
    assertEquals(0, store.size());
    passSeconds(2);
    assertEquals(stands(), stories(store.getFirst().all()));
    storeFails("no space left");
    passSeconds(6);
    assertEquals(List.of(alarm), box.alarms());
    storeTakesIt();
    assertEquals(List.of(), box.alarms());
    passSeconds(20);
    assertEquals(0, store.size());
  }

  @Test
  void storeThatBreaksIsOneThatFails() {
    ready();
    var reply = ask(GRANT);
    store.remove().result().completeExceptionally(new IllegalStateException("gone"));
    box.advance(nowNs);
    assertFalse(reply.join().granted());
    assertEquals(List.of(), stands());
  }

  @Test
  void ordersAreKeptOneAfterTheOther() {
    ready();
    var first = ask(GRANT);
    var second = ask("grant permit to Hobbs on mill-branch");
    var third = ask(RETURN);
    var fourth = ask("block signal t2e for Hobbs");
    assertEquals(1, store.size());
    storeTakesIt();
    assertTrue(first.join().granted());
    assertFalse(second.join().granted(), "the first crew holds it");
    assertFalse(third.isDone());
    storeTakesIt();
    assertTrue(third.join().granted());
    assertEquals(1, stories(store.getFirst().all()).size());
    storeTakesIt();
    assertTrue(fourth.join().granted());
    assertEquals(0, store.size());
  }

  @Test
  void refusalWaitsForNothing() {
    ready();
    assertTrue(ask(RETURN).isDone());
    assertTrue(ask("confirm protections").isDone());
    assertTrue(ask("grant permit to Hobbs on nowhere").isDone());
    assertEquals(0, store.size());
  }

  @Test
  void ordersThatTheStoreDoesNotTakeArePiledUpOnlySoFar() {
    ready();
    List<CompletableFuture<Answer>> replies = new ArrayList<>();
    for (int count = 0; count < ProtectionKeeper.WAITING_MAX + 2; count++) {
      replies.add(ask("block signal t2e for Hobbs"));
    }
    assertEquals(1, replies.stream().filter(CompletableFuture::isDone).count());
    assertTrue(text(replies.get(replies.size() - 1)).startsWith("too many orders"));
    storeTakesIt();
    assertTrue(replies.stream().allMatch(CompletableFuture::isDone));
  }

  private static List<String> stories(KeptProtections kept) {
    return kept.protections().stream().map(Protection::wholeStory).toList();
  }
}
