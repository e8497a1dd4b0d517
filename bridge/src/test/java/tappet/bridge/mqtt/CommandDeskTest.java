package tappet.bridge.mqtt;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import tappet.bridge.pages.NoOffice;
import tappet.bridge.pages.Role;
import tappet.bridge.pages.Territories;
import tappet.bridge.view.Demo;
import tappet.bridge.view.Facts;
import tappet.bridge.view.Sight;
import tappet.bridge.web.Reply;
import tappet.sentence.Command;

/**
 * Which sentences are carried out that come by MQTT. A message may be delivered again (MQTT 5.0
 * §4.3.2) and may have been kept (§3.3.1.3); what follows for commands is common practice.
 */
class CommandDeskTest {

  private final List<String> done = new ArrayList<>();
  private long nowMs = 1_700_000_000_000L;
  private Sight sight = new Sight(Map.of());
  private CommandDesk desk;

  @BeforeEach
  void openDesk() {
    desk = desk(Role.DISPATCHER);
  }

  private CommandDesk desk(Role role) {
    return desk(role, Optional.empty());
  }

  private CommandDesk desk(Role role, Optional<String> territory) {
    return new CommandDesk(
        new MqttPlan.Commands(role, territory),
        new Recorder(),
        new Territories(
            Demo.layout(),
            Demo.table(),
            Map.of("west", List.of("fallow", "tilling"), "east", List.of("midway", "corvane"))),
        () -> nowMs);
  }

  private String say(String sentence, String id, long atMs, boolean retained) {
    return take(
        "{\"say\": \"%s\", \"id\": \"%s\", \"at\": %d}".formatted(sentence, id, atMs), retained);
  }

  private String take(String payload, boolean retained) {
    return desk.take(payload.getBytes(StandardCharsets.UTF_8), retained)
        .map(told -> told.join().kind())
        .orElse("");
  }

  @Test
  void newSentenceIsCarriedOutOnce() {
    assertEquals("done", say("line f2e to t2e", "a", nowMs, false));
    assertEquals("repeated", say("line f2e to t2e", "a", nowMs, false));
    assertEquals(List.of("line f2e to t2e"), done);
  }

  @Test
  void sentenceThatWasKeptIsNotCarriedOut() {
    assertEquals("retained", say("line f2e to t2e", "a", nowMs, true));
    assertEquals("old", say("line f2e to t2e", "b", nowMs - 10_001, false));
    assertEquals("old", say("line f2e to t2e", "c", nowMs + 10_001, false));
    assertEquals(List.of(), done);
  }

  /** As long as it would still pass for new it is known to have come. */
  @Test
  void sentenceOfTheFutureIsNotForgottenWhileItIsNew() {
    long atMs = nowMs + 10_000;
    assertEquals("done", say("line f2e to t2e", "a", atMs, false));
    nowMs = atMs + 10_000;
    assertEquals("repeated", say("line f2e to t2e", "a", atMs, false));
    nowMs++;
    assertEquals("old", say("line f2e to t2e", "a", atMs, false));
  }

  @Test
  void crewMayNotSayWhatTheDispatcherSays() {
    desk = desk(Role.CREW);
    assertEquals("not allowed", say("line f2e to t2e", "a", nowMs, false));
    assertEquals(1L, desk.refused().get("not allowed"));
    assertEquals(List.of(), done);
  }

  /** A permit's place is not in the sentence that returns it: the railroad is looked at. */
  @Test
  void permitElsewhereIsNotReturned() {
    desk = desk(Role.DISPATCHER, Optional.of("west"));
    sight = permitOf("X", "mid-west");
    assertEquals("not allowed", say("return permit of X", "a", nowMs, false));
    assertEquals(List.of(), done);
    sight = permitOf("X", "west-main");
    assertEquals("done", say("return permit of X", "b", nowMs, false));
  }

  private static Sight permitOf(String holder, String section) {
    return new Sight(
        Map.of(
            "protection",
            Map.of(
                "permit",
                new Facts(Map.of("by", "permit", "holder", holder, "on", List.of(section))))));
  }

  @Test
  void whatIsNoSentenceIsRefused() {
    assertEquals("not understood", say("lien f2e", "a", nowMs, false));
    for (String payload :
        List.of(
            "line f2e to t2e",
            "{\"say\": \"line f2e to t2e\", \"id\": \"a\", \"at\": \"now\"}",
            "{\"say\": \"line f2e to t2e\", \"id\": \"a/b\", \"at\": 1}",
            "{\"say\": \"line f2e to t2e\", \"at\": 1}",
            "{\"say\": \"line f2e to t2e\", \"id\": \"a\", \"at\": 1} {}",
            "{\"say\": \"line f2e to t2e\", \"id\": \"a\", \"at\": 1",
            "")) {
      assertEquals("", take(payload, false), payload);
    }
    assertEquals(7L, desk.refused().get("malformed"));
    assertEquals(List.of(), done);
  }

  @Test
  void floodIsRefusedUntilItIsOver() {
    for (int i = 0; i < CommandDesk.REMEMBERED_MAX; i++) {
      assertEquals("done", say("start clock", "i" + i, nowMs, false));
    }
    assertEquals("too many", say("start clock", "more", nowMs, false));
    nowMs += 10_001;
    assertEquals("done", say("start clock", "later", nowMs, false));
  }

  /** Notes what it is told to carry out. */
  private final class Recorder extends NoOffice {
    @Override
    public CompletableFuture<Reply> carryOut(Command command, String sentence, String who) {
      done.add(sentence);
      return CompletableFuture.completedFuture(new Reply(Reply.Kind.DONE, who));
    }

    @Override
    public CompletableFuture<Sight> sight() {
      return CompletableFuture.completedFuture(sight);
    }
  }
}
