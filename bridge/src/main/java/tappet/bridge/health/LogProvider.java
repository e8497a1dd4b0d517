package tappet.bridge.health;

import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.util.LogbackMDCAdapter;
import org.slf4j.ILoggerFactory;
import org.slf4j.IMarkerFactory;
import org.slf4j.helpers.BasicMarkerFactory;
import org.slf4j.spi.MDCAdapter;
import org.slf4j.spi.SLF4JServiceProvider;

/**
 * Gives SLF4J a Logback that is set up at once. Logback's own provider would look through every jar
 * for services and versions first, which takes as long as the set-up itself.
 *
 * <p>It is named by the launcher's {@code slf4j.provider}. A program that is started otherwise has
 * Logback's own, which comes to the same by {@link LogSetup}.
 */
public final class LogProvider implements SLF4JServiceProvider {

  private final LoggerContext loggers = new LoggerContext();
  private final IMarkerFactory markers = new BasicMarkerFactory();
  private final LogbackMDCAdapter contexts = new LogbackMDCAdapter();

  @Override
  public void initialize() {
    loggers.setName("default");
    loggers.setMDCAdapter(contexts);
    LogSetup.write(loggers, LogSetup.Form.LINES);
    loggers.start();
  }

  @Override
  public ILoggerFactory getLoggerFactory() {
    return loggers;
  }

  @Override
  public IMarkerFactory getMarkerFactory() {
    return markers;
  }

  @Override
  public MDCAdapter getMDCAdapter() {
    return contexts;
  }

  @Override
  public String getRequestedApiVersion() {
    return "2.0";
  }
}
