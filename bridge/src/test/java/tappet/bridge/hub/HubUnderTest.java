package tappet.bridge.hub;

import io.netty.channel.EventLoop;
import io.netty.channel.MultiThreadIoEventLoopGroup;
import io.netty.channel.nio.NioIoHandler;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;
import tappet.lcc.CanFrame;

/** A hub on an event loop of its own, which remembers all that its listener was told. */
public final class HubUnderTest implements AutoCloseable, HubListener {

  private static final int PATIENCE_S = 30;

  private final MultiThreadIoEventLoopGroup group =
      new MultiThreadIoEventLoopGroup(1, NioIoHandler.newFactory());
  private final List<CanFrame> frames = Collections.synchronizedList(new ArrayList<>());
  private final List<String> news = new CopyOnWriteArrayList<>();
  private final Hub hub = new Hub(group.next(), this);

  public Hub hub() {
    return hub;
  }

  public EventLoop loop() {
    return hub.loop();
  }

  /** Frames told to the listener, in order. */
  public List<CanFrame> frames() {
    return List.copyOf(frames);
  }

  /** Ups, downs and alarms told to the listener, as lines such as {@code NAME is up}. */
  public List<String> news() {
    return List.copyOf(news);
  }

  /** Waits until all that was handed to the loop so far is done. */
  public void settle() {
    if (!loop().submit(() -> {}).awaitUninterruptibly(PATIENCE_S, TimeUnit.SECONDS)) {
      throw new AssertionError("the hub's event loop is held up");
    }
  }

  @Override
  public void frameArrived(Connection from, CanFrame frame) {
    frames.add(frame);
  }

  @Override
  public void connectionUp(Connection connection) {
    news.add(connection.name() + " is up");
  }

  @Override
  public void connectionDown(Connection connection, String why) {
    news.add(connection.name() + " " + why);
  }

  @Override
  public void cutOff(Connection connection, String why) {
    news.add(connection.name() + " " + why);
  }

  @Override
  public void putBack(Connection connection) {
    news.add(connection.name() + " is put back");
  }

  @Override
  public void trouble(Connection connection, String what) {
    news.add(connection.name() + " " + what);
  }

  @Override
  public void troubleOver(Connection connection, String beginning) {
    news.add("over: " + connection.name() + " " + beginning);
  }

  @Override
  public void close() {
    group.shutdownGracefully(0, 10, TimeUnit.SECONDS).syncUninterruptibly();
  }
}
