package tappet.bridge.adapter;

import tappet.bridge.hub.Access;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.Hub;
import tappet.bridge.hub.Traffic;
import tappet.lcc.CanFrame;

/**
 * A serial adapter to the layout's bus, with 8 data bits, no parity and 1 stop bit, whose frames
 * have one of the {@link SerialForm}s. Reopens by itself after its cable was pulled or its power
 * was off.
 */
public final class SerialAdapter implements Connection {

  private final Hub hub;
  private final SerialDevice device;
  private final SerialForm form;
  private final Access access;
  private final Recovery recovery;
  private final TrafficCount traffic = new TrafficCount();

  /** Touched on the hub's event loop only; null while down. */
  private SerialLink link;

  private SerialAdapter(
      Hub hub, SerialDevice device, SerialForm form, BackOff backOff, Access access) {
    this.hub = hub;
    this.device = device;
    this.form = form;
    this.access = access;
    this.recovery = new Recovery(hub, this, backOff, this::openDevice);
  }

  /**
   * As {@link #open(Hub, String, int, SerialForm, BackOff, Access)}, with text frames and free to
   * speak.
   */
  public static SerialAdapter open(Hub hub, String path, int rate, BackOff backOff) {
    return open(hub, path, rate, SerialForm.TEXT, backOff, Access.FULL);
  }

  /**
   * Opens the device, now or as soon as it is there; does not wait for it.
   *
   * @param path such as {@code /dev/ttyACM0} or a link to it
   * @param rate bits a second, above zero
   * @param form how frames are written on the line
   * @param backOff how long to rest between tries
   * @param access what the line may do: one that is overheard is heard, and told nothing
   */
  public static SerialAdapter open(
      Hub hub, String path, int rate, SerialForm form, BackOff backOff, Access access) {
    SerialDevice device = new SerialDevice(path, rate);
    SerialAdapter adapter = new SerialAdapter(hub, device, form, backOff, access);
    hub.onLoop(adapter.recovery::start);
    return adapter;
  }

  private void openDevice() {
    SerialCodec codec = form.codec(name(), access, traffic, new Trouble());
    link = new SerialLink(hub, this, device, codec, traffic, new Watcher());
    link.start();
  }

  @Override
  public String name() {
    return "serial adapter " + device.path();
  }

  @Override
  public Access access() {
    return access;
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

  @Override
  public void breakOff(String why) {
    if (link != null) {
      link.end(why);
    }
  }

  /** Closes the device and ends its threads within some two seconds; does not wait for it. */
  @Override
  public void close() {
    hub.onLoop(this::end);
  }

  private void end() {
    recovery.close();
    if (link != null) {
      link.close();
    }
  }

  private final class Trouble implements LineTrouble {
    @Override
    public void arises(String what) {
      hub.trouble(SerialAdapter.this, what);
    }

    @Override
    public void over(String beginning) {
      hub.troubleOver(SerialAdapter.this, beginning);
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
