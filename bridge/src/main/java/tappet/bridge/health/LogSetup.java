package tappet.bridge.health;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.encoder.JsonEncoder;
import ch.qos.logback.classic.encoder.PatternLayoutEncoder;
import ch.qos.logback.classic.spi.Configurator;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.Appender;
import ch.qos.logback.core.ConsoleAppender;
import ch.qos.logback.core.encoder.Encoder;
import ch.qos.logback.core.spi.ContextAwareBase;
import java.util.List;
import org.slf4j.ILoggerFactory;
import org.slf4j.LoggerFactory;

/**
 * Sets the log up: what matters, one line a problem, to the console; under systemd that is the
 * system journal. Equal lines are counted.
 *
 * <p>The launcher's programs have it from {@link LogProvider}; in others Logback finds it among the
 * services of the jar, and there a file named by {@code logback.configurationFile} is obeyed. It is
 * no file itself, since to read one takes a tenth of the time that the daemon takes to start.
 */
public final class LogSetup extends ContextAwareBase implements Configurator {

  private static final String OWN_FILE = "logback.configurationFile";
  private static final String LINE = "%d{HH:mm:ss.SSS} %-5level %msg%n%ex{short}";

  /** These tell at every connection what the daemon tells itself. */
  private static final List<String> TALKATIVE = List.of("io.netty", "com.hivemq");

  /** How a problem is written. */
  public enum Form {
    /** As people read it. */
    LINES,
    /** One JSON object a line, as machines read it. */
    JSON
  }

  @Override
  public ExecutionStatus configure(LoggerContext context) {
    if (System.getProperty(OWN_FILE) != null) {
      return ExecutionStatus.INVOKE_NEXT_IF_ANY;
    }
    write(context, Form.LINES);
    return ExecutionStatus.DO_NOT_INVOKE_NEXT_IF_ANY;
  }

  /** Has this program's log written in a form from now on; {@link Form#LINES} is the usual one. */
  public static void use(Form form) {
    ILoggerFactory loggers = LoggerFactory.getILoggerFactory();
    if (form != Form.LINES && loggers instanceof LoggerContext context) {
      write(context, form);
    }
  }

  /** Has whatever is logged in a context written in a form, and in no other. */
  static void write(LoggerContext context, Form form) {
    TALKATIVE.forEach(name -> context.getLogger(name).setLevel(Level.WARN));
    Logger root = context.getLogger(Logger.ROOT_LOGGER_NAME);
    root.setLevel(Level.INFO);
    root.detachAndStopAllAppenders();
    root.addAppender(counted(context, console(context, encoder(context, form))));
  }

  private static Appender<ILoggingEvent> counted(
      LoggerContext context, Appender<ILoggingEvent> told) {
    CountingAppender counted = new CountingAppender();
    counted.setContext(context);
    counted.addAppender(told);
    counted.start();
    return counted;
  }

  private static Appender<ILoggingEvent> console(
      LoggerContext context, Encoder<ILoggingEvent> encoder) {
    ConsoleAppender<ILoggingEvent> console = new ConsoleAppender<>();
    console.setContext(context);
    console.setEncoder(encoder);
    console.start();
    return console;
  }

  private static Encoder<ILoggingEvent> encoder(LoggerContext context, Form form) {
    return switch (form) {
      case LINES -> lines(context);
      case JSON -> objects(context);
    };
  }

  private static Encoder<ILoggingEvent> lines(LoggerContext context) {
    PatternLayoutEncoder lines = new PatternLayoutEncoder();
    lines.setContext(context);
    lines.setPattern(LINE);
    lines.start();
    return lines;
  }

  private static Encoder<ILoggingEvent> objects(LoggerContext context) {
    JsonEncoder objects = new JsonEncoder();
    objects.setContext(context);
    objects.setWithFormattedMessage(true);
    objects.start();
    return objects;
  }
}
