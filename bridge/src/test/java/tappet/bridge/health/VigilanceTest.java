package tappet.bridge.health;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import org.junit.jupiter.api.Test;
import org.slf4j.LoggerFactory;

/** The box is asked whether it works, on virtual time. Common practice, no source. */
class VigilanceTest {

  private static final Pulse WELL = new Pulse(true, false, 0, Map.of("cable", true));

  private long nowNs = 1;
  private int fed;
  private CompletableFuture<Pulse> answer = CompletableFuture.completedFuture(WELL);

  private final Vigilance vigilance =
      new Vigilance(
          () -> answer,
          () -> new StackTraceElement[] {new StackTraceElement("Box", "sticks", "Box.java", 7)},
          () -> nowNs,
          () -> fed++);

  private void pass(int seconds) {
    for (int i = 0; i < seconds; i++) {
      nowNs += Duration.ofSeconds(1).toNanos();
      vigilance.look();
    }
  }

  @Test
  void boxThatAnswersFeedsTheWatchdogAtEachLook() {
    pass(20);
    assertEquals(20, fed);
    assertFalse(vigilance.isStalled());
    assertTrue(new Vitals(vigilance).now().well());
  }

  @Test
  void boxThatStallsFeedsNoWatchdogAndIsLoggedOnceWithWhatItIsAt() {
    Logger logger = (Logger) LoggerFactory.getLogger(Vigilance.class);
    ListAppender<ILoggingEvent> log = new ListAppender<>();
    log.start();
    logger.addAppender(log);
    pass(1);
    answer = new CompletableFuture<>();
    pass(60);
    assertEquals(1 + 4, fed, "fed until the patience is over");
    assertTrue(vigilance.isStalled());
    assertEquals(1, log.list.size(), log.list::toString);
    String told = log.list.get(0).getFormattedMessage();
    assertTrue(told.contains("Box.sticks(Box.java:7)"), told);
    answer.complete(WELL);
    answer = CompletableFuture.completedFuture(WELL);
    pass(3);
    assertEquals(5 + 3, fed);
    assertEquals("The box answers again", log.list.get(1).getFormattedMessage());
    logger.detachAppender(log);
  }

  @Test
  void boxThatHasNeverAnsweredIsNotWell() {
    answer = new CompletableFuture<>();
    pass(1);
    assertFalse(new Vitals(vigilance).now().well());
  }

  @Test
  void eachPartThatIsNotWellMakesTheWholeNotWell() {
    for (Pulse bad :
        List.of(
            new Pulse(false, false, 0, Map.of("cable", true)),
            new Pulse(true, true, 0, Map.of("cable", true)),
            new Pulse(true, false, 0, Map.of("cable", false)))) {
      answer = CompletableFuture.completedFuture(bad);
      pass(2);
      var health = new Vitals(vigilance).now();
      assertFalse(health.well(), health.json());
      assertTrue(health.json().contains("\"well\":false"), health.json());
    }
  }
}
