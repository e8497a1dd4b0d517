package tappet.bridge.adapter;

import tappet.bridge.hub.Connection;
import tappet.bridge.hub.Hub;
import tappet.bridge.hub.Traffic;
import tappet.lcc.CanFrame;

/**
 * A serial adapter to the layout's bus, with text frames, 8 data bits, no parity and 1 stop bit.
 * Reopens by itself after its cable was pulled or its power was off.
 */
public final class SerialAdapter implements Connection {

  private final Hub hub;
  private final SerialDevice device;
  private final Recovery recovery;
  private final TrafficCount traffic = new TrafficCount();

  /** Touched on the hub's event loop only; null while down. */
  private SerialLink link;

  private SerialAdapter(Hub hub, SerialDevice device, BackOff backOff) {
    this.hub = hub;
    this.device = device;
    this.recovery = new Recovery(hub, this, backOff, this::openDevice);
  }

  /**
   * Opens the device, now or as soon as it is there; does not wait for it.
   *
   * @param path such as {@code /dev/ttyACM0} or a link to it
   * @param rate bits a second, above zero
   * @param backOff how long to rest between tries
   */
  public static SerialAdapter open(Hub hub, String path, int rate, BackOff backOff) {
    SerialAdapter adapter = new SerialAdapter(hub, new SerialDevice(path, rate), backOff);
    hub.onLoop(adapter.recovery::start);
    return adapter;
  }

  private void openDevice() {
    link = new SerialLink(hub, this, device, traffic, new Watcher());
    link.start();
  }

  @Override
  public String name() {
    return "serial adapter " + device.path();
  }

  @Override
  public void send(CanFrame frame) {
    if (link != null) {
      link.send(frame);
    }
  }

  @Override
  public Traffic traffic() {
    return traffic.read();
  }

  /** Closes the device and ends its threads within some 200 ms; does not wait for it. */
  @Override
  public void close() {
    hub.onLoop(this::end);
  }

  private void end() {
    recovery.close();
    if (link != null) {
      link.end("was closed");
    }
  }

  private final class Watcher implements LineWatcher {
    @Override
    public void lineUp() {
      recovery.up();
    }

    @Override
    public void lineDown(String why) {
      link = null;
      recovery.down(why);
    }
  }
}
