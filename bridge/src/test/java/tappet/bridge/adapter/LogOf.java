package tappet.bridge.adapter;

import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.AppenderBase;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import org.slf4j.LoggerFactory;

/** The log lines written about one connection while this is open, as {@code LEVEL text}. */
public final class LogOf extends AppenderBase<ILoggingEvent> implements AutoCloseable {

  private final String connection;
  private final Logger logger = (Logger) LoggerFactory.getLogger("tappet.bridge");
  private final List<String> lines = new CopyOnWriteArrayList<>();

  private LogOf(String connection) {
    this.connection = connection;
  }

  public static LogOf connection(String name) {
    LogOf log = new LogOf(name);
    log.start();
    log.logger.setLevel(ch.qos.logback.classic.Level.INFO);
    log.logger.addAppender(log);
    return log;
  }

  public List<String> lines() {
    return List.copyOf(lines);
  }

  @Override
  protected void append(ILoggingEvent event) {
    if (event.getFormattedMessage().startsWith(connection + " ")) {
      lines.add(event.getLevel() + " " + event.getFormattedMessage());
    }
  }

  @Override
  public void close() {
    logger.detachAppender(this);
    logger.setLevel(null);
  }
}
