package tappet.bridge.health;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertSame;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.Appender;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.slf4j.Logger;

final class LogProviderTest {

  private final LogProvider provider = new LogProvider();

  @Test
  void logIsSetUpAtOnce() {
    provider.initialize();
    LoggerContext loggers = assertInstanceOf(LoggerContext.class, provider.getLoggerFactory());

    var root = loggers.getLogger(Logger.ROOT_LOGGER_NAME);
    assertEquals(Level.INFO, root.getLevel());
    assertEquals(Level.WARN, loggers.getLogger("io.netty.handler").getEffectiveLevel());
    List<Appender<ILoggingEvent>> told = new ArrayList<>();
    root.iteratorForAppenders().forEachRemaining(told::add);
    assertEquals(1, told.size());
    assertInstanceOf(CountingAppender.class, told.get(0));
    assertSame(provider.getMDCAdapter(), loggers.getMDCAdapter());
  }
}
