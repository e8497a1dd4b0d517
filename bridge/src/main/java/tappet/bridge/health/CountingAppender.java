package tappet.bridge.health;

import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.classic.spi.LoggingEvent;
import ch.qos.logback.core.Appender;
import ch.qos.logback.core.AppenderBase;
import ch.qos.logback.core.spi.AppenderAttachable;
import ch.qos.logback.core.spi.AppenderAttachableImpl;
import java.util.Iterator;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.TimeUnit;

/**
 * Hands log lines on, but of many equal ones, or many of one form, only the first few a minute; the
 * others are told as one line with their number. A problem that comes with every frame does not
 * fill a disk. Minutes are told by the times of the lines.
 */
public final class CountingAppender extends AppenderBase<ILoggingEvent>
    implements AppenderAttachable<ILoggingEvent> {

  static final long MINUTE_MS = 60_000;

  private final AppenderAttachableImpl<ILoggingEvent> appenders = new AppenderAttachableImpl<>();
  private final Repeats repeats = new Repeats();
  private long endOfMinuteMs = Long.MIN_VALUE;
  private ScheduledFuture<?> bell;

  @Override
  protected void append(ILoggingEvent line) {
    if (line.getTimeStamp() >= endOfMinuteMs) {
      tellCounts();
      endOfMinuteMs = line.getTimeStamp() + MINUTE_MS;
    }
    if (repeats.tells(line)) {
      appenders.appendLoopOnAppenders(line);
    } else if (bell == null) {
      ringAtTheEndOfTheMinute();
    }
  }

  /** Where no line follows, the count is told all the same. */
  private void ringAtTheEndOfTheMinute() {
    bell =
        getContext()
            .getScheduledExecutorService()
            .schedule(this::ring, MINUTE_MS, TimeUnit.MILLISECONDS);
  }

  private synchronized void ring() {
    tellCounts();
  }

  private void tellCounts() {
    if (bell != null) {
      bell.cancel(false);
      bell = null;
    }
    repeats.nextMinute().forEach(this::tell);
  }

  private void tell(Repeats.Untold untold) {
    ILoggingEvent last = untold.last();
    LoggingEvent line =
        new LoggingEvent(
            CountingAppender.class.getName(),
            ((LoggerContext) getContext()).getLogger(last.getLoggerName()),
            last.getLevel(),
            "… {} times more in the last minute: {}",
            null,
            new Object[] {untold.times(), last.getFormattedMessage()});
    line.setTimeStamp(last.getTimeStamp());
    appenders.appendLoopOnAppenders(line);
  }

  /** Nothing that was counted is lost. */
  @Override
  public synchronized void stop() {
    tellCounts();
    super.stop();
    appenders.detachAndStopAllAppenders();
  }

  @Override
  public void addAppender(Appender<ILoggingEvent> appender) {
    appenders.addAppender(appender);
  }

  @Override
  public Iterator<Appender<ILoggingEvent>> iteratorForAppenders() {
    return appenders.iteratorForAppenders();
  }

  @Override
  public Appender<ILoggingEvent> getAppender(String name) {
    return appenders.getAppender(name);
  }

  @Override
  public boolean isAttached(Appender<ILoggingEvent> appender) {
    return appenders.isAttached(appender);
  }

  @Override
  public void detachAndStopAllAppenders() {
    appenders.detachAndStopAllAppenders();
  }

  @Override
  public boolean detachAppender(Appender<ILoggingEvent> appender) {
    return appenders.detachAppender(appender);
  }

  @Override
  public boolean detachAppender(String name) {
    return appenders.detachAppender(name);
  }
}
