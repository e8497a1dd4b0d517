package tappet.bridge.adapter;

import java.util.List;
import java.util.function.Consumer;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.Hub;
import tappet.bridge.hub.Traffic;
import tappet.lcc.CanFrame;

/** A connection within the program, by which the simulator attaches: frames are method calls. */
public final class LocalConnection implements Connection {

  private final Hub hub;
  private final String name;
  private final Consumer<CanFrame> receiver;
  private final TrafficCount traffic = new TrafficCount();
  private volatile boolean closed;

  private LocalConnection(Hub hub, String name, Consumer<CanFrame> receiver) {
    this.hub = hub;
    this.name = name;
    this.receiver = receiver;
  }

  /**
   * Attaches to the hub.
   *
   * @param name what an owner calls it
   * @param receiver takes each frame of the hub, on the hub's event loop: must not block, may
   *     answer by {@link #tell}
   */
  public static LocalConnection attach(Hub hub, String name, Consumer<CanFrame> receiver) {
    LocalConnection connection = new LocalConnection(hub, name, receiver);
    hub.attach(connection);
    return connection;
  }

  /** Tells a frame to the hub; from any thread. */
  public void tell(CanFrame frame) {
    tellAll(List.of(frame));
  }

  /** Tells frames to the hub in one go; from any thread. The caller may reuse the list. */
  public void tellAll(List<CanFrame> frames) {
    if (!closed) {
      traffic.framesIn.add(frames.size());
      hub.framesFrom(this, frames);
    }
  }

  @Override
  public String name() {
    return name;
  }

  @Override
  public void send(CanFrame frame) {
    if (!closed) {
      traffic.framesOut.increment();
      receiver.accept(frame);
    }
  }

  @Override
  public Traffic traffic() {
    return traffic.read();
  }

  @Override
  public void close() {
    closed = true;
    hub.dismiss(this, "was closed");
  }
}
