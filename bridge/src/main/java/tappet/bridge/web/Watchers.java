package tappet.bridge.web;

import io.netty.buffer.Unpooled;
import io.netty.channel.Channel;
import io.netty.channel.group.ChannelGroup;
import io.netty.channel.group.DefaultChannelGroup;
import io.netty.handler.codec.http.DefaultHttpContent;
import io.netty.util.concurrent.GlobalEventExecutor;
import java.nio.charset.StandardCharsets;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.concurrent.atomic.LongAdder;
import java.util.function.Supplier;
import tappet.bridge.box.BoxListener;
import tappet.lcc.CanFrame;
import tappet.lcc.FrameText;
import tappet.lcc.Messages;

/**
 * Who watches: each line of what goes on is written to all of them. One that cannot keep up misses
 * lines, which are counted; it never holds up the box.
 */
public final class Watchers implements BoxListener {

  private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern("HH:mm:ss.SSS");

  private final ChannelGroup channels =
      new DefaultChannelGroup("watchers", GlobalEventExecutor.INSTANCE);
  private final LongAdder missed = new LongAdder();

  /** From now on this channel sees what goes on, and first the alarms that stand. */
  void add(Channel channel, List<String> alarms) {
    channels.add(channel);
    alarms.forEach(alarm -> write(channel, timed("ALARM  " + alarm)));
  }

  @Override
  public void frameHeard(String origin, CanFrame frame, long nowNs) {
    line(() -> "in   " + told(frame) + "   by " + origin);
  }

  @Override
  public void frameSent(CanFrame frame, long nowNs) {
    line(() -> "out  " + told(frame));
  }

  @Override
  public void changed(String what) {
    line(() -> "       " + what);
  }

  @Override
  public void alarmRaised(String what) {
    line(() -> "ALARM  " + what);
  }

  @Override
  public void alarmCleared(String what) {
    line(() -> "alarm gone  " + what);
  }

  /** How many lines watchers have missed. */
  public long missed() {
    return missed.sum();
  }

  private static String told(CanFrame frame) {
    return "%-30s %s".formatted(FrameText.encode(frame), Messages.decode(frame).describe());
  }

  /** Nothing is written out while nobody watches. */
  private void line(Supplier<String> words) {
    if (!channels.isEmpty()) {
      String line = timed(words.get());
      channels.forEach(channel -> write(channel, line));
    }
  }

  private static String timed(String words) {
    return LocalTime.now(ZoneId.systemDefault()).format(TIME) + "  " + words + "\n";
  }

  private void write(Channel channel, String line) {
    if (channel.isWritable()) {
      var content = Unpooled.copiedBuffer(line, StandardCharsets.UTF_8);
      var unused = channel.writeAndFlush(new DefaultHttpContent(content));
    } else {
      missed.increment();
    }
  }
}
