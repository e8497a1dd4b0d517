package tappet.bridge.health;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.classic.spi.LoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** A flood of log lines becomes a handful, and none is lost from the count. */
class CountingAppenderTest {

  private final LoggerContext context = new LoggerContext();
  private final Logger logger = context.getLogger("flood");
  private final ListAppender<ILoggingEvent> told = new ListAppender<>();
  private final CountingAppender appender = new CountingAppender();
  private long nowMs = 1_000_000;

  @BeforeEach
  void start() {
    told.start();
    appender.setContext(context);
    appender.addAppender(told);
    appender.start();
  }

  @AfterEach
  void stop() {
    context.stop();
  }

  private void log(String form, Object... arguments) {
    LoggingEvent event = new LoggingEvent("", logger, Level.WARN, form, null, arguments);
    event.setTimeStamp(nowMs);
    appender.doAppend(event);
  }

  private List<String> lines() {
    return told.list.stream().map(ILoggingEvent::getFormattedMessage).toList();
  }

  @Test
  void hundredThousandEqualProblemsMakeFourLinesAndTheCountIsRight() {
    for (int i = 0; i < 100_000; i++) {
      log("{} is noisy", "the cable");
    }
    appender.stop();
    assertEquals(
        List.of(
            "the cable is noisy",
            "the cable is noisy",
            "the cable is noisy",
            "… 99997 times more in the last minute: the cable is noisy"),
        lines());
    assertEquals(Level.WARN, told.list.get(3).getLevel());
    assertEquals("flood", told.list.get(3).getLoggerName());
  }

  @Test
  void problemsThatDifferOnlyInTheirNamesAreBoundedToo() {
    for (int i = 0; i < 100_000; i++) {
      log("client {} was dropped", i);
    }
    appender.stop();
    assertEquals(31, lines().size());
    assertEquals(
        "… 99970 times more in the last minute: client 99999 was dropped", lines().get(30));
  }

  @Test
  void theCountIsToldWhenTheMinuteIsOver() {
    for (int i = 0; i < 5; i++) {
      log("it smells");
    }
    nowMs += CountingAppender.MINUTE_MS;
    log("something else");
    log("it smells");
    assertEquals("… 2 times more in the last minute: it smells", lines().get(3));
    assertEquals(List.of("something else", "it smells"), lines().subList(4, 6));
  }

  @Test
  void whatIsRareIsToldAsItIs() {
    for (int i = 0; i < 20; i++) {
      log("problem " + i);
    }
    assertEquals(20, lines().size());
    assertTrue(lines().stream().noneMatch(line -> line.startsWith("…")));
  }
}
