package tappet.bridge;

import java.io.IOException;
import java.nio.file.Path;
import tappet.bridge.adapter.PseudoTerminal;
import tappet.bridge.adapter.SerialForm;
import tappet.bridge.hub.Access;

/** A way between the daemon and a field in another process, which can be cut and mended. */
interface Wire extends AutoCloseable {

  /** The way as the daemon's settings name it. */
  Settings.Way way();

  /** The field's process now. */
  JavaProcess field();

  /** Cuts the wire without a farewell. */
  void cut();

  void mend() throws IOException;

  /** Whether an alarm of the daemon tells that the wire was cut. */
  boolean isToldBy(String alarm);

  @Override
  void close();

  static Wire open(String kind, Path folder) throws IOException {
    return kind.equals("serial") ? new Cable(folder) : new Network(folder);
  }

  /** A serial cable; the field is still there when it is cut. */
  final class Cable implements Wire {

    private final Path near;
    private final Path far;
    private final JavaProcess field;
    private PseudoTerminal cable;

    Cable(Path folder) throws IOException {
      near = folder.resolve("near");
      far = folder.resolve("far");
      cable = PseudoTerminal.plug(near, far);
      field = JavaProcess.start(SimulatedField.class, folder.toString(), "serial", far.toString());
    }

    @Override
    public Settings.Way way() {
      return new Settings.Serial(near.toString(), 115_200, SerialForm.TEXT, Access.FULL);
    }

    @Override
    public JavaProcess field() {
      return field;
    }

    @Override
    public void cut() {
      cable.close();
    }

    @Override
    public void mend() throws IOException {
      cable = PseudoTerminal.plug(near, far);
    }

    @Override
    public boolean isToldBy(String alarm) {
      return alarm.equals("serial adapter " + near + " does not answer: device gone");
    }

    @Override
    public void close() {
      field.close();
      cable.close();
    }
  }

  /** A TCP connection to the field's own hub; the field goes with it when it is cut. */
  final class Network implements Wire {

    private final Path folder;
    private final int port;
    private JavaProcess field;

    Network(Path folder) throws IOException {
      this.folder = folder;
      field = start("0");
      try {
        port = Integer.parseInt(field.awaitLine("hub at port (\\d+)").group(1));
      } catch (AssertionError e) {
        field.close();
        throw e;
      }
    }

    private JavaProcess start(String where) throws IOException {
      return JavaProcess.start(SimulatedField.class, folder.toString(), "hub", where);
    }

    @Override
    public Settings.Way way() {
      return new Settings.Tcp("127.0.0.1", port, Access.FULL);
    }

    @Override
    public JavaProcess field() {
      return field;
    }

    @Override
    public void cut() {
      field.close();
    }

    @Override
    public void mend() throws IOException {
      field = start(Integer.toString(port));
    }

    /** A process that is killed with frames unread resets its connection. */
    @Override
    public boolean isToldBy(String alarm) {
      String hub = "TCP hub 127.0.0.1:" + port;
      return alarm.equals(hub + " has left") || alarm.startsWith(hub + " broke off");
    }

    @Override
    public void close() {
      field.close();
    }
  }
}
