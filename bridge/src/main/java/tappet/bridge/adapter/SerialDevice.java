package tappet.bridge.adapter;

import com.fazecast.jSerialComm.SerialPort;
import com.fazecast.jSerialComm.SerialPortInvalidPortException;
import java.io.IOException;

/**
 * A serial device of this machine.
 *
 * @param path such as {@code /dev/ttyACM0} or a link to it
 * @param rate bits a second, above zero; devices on USB mostly ignore it
 */
record SerialDevice(String path, int rate) {

  /** A read waits this long for a first byte, and so does a closing for the reader. */
  private static final int READ_TIMEOUT_MS = 200;

  private static final int DATA_BITS = 8;

  // Error numbers of the operating system, as in its errno.h.
  private static final int PERMISSION_DENIED = 13;
  private static final int BUSY = 16;
  private static final int NOT_A_TERMINAL = 25;

  SerialDevice {
    if (rate <= 0) {
      throw new IllegalArgumentException("rate " + rate + ", expected a number of bits a second");
    }
  }

  /**
   * Opens the device for this program alone, with 8 data bits, no parity and 1 stop bit. May block.
   *
   * @throws IOException whose message ends a sentence that begins with the adapter's name
   */
  SerialPort open() throws IOException {
    SerialPort port = find();
    port.setComPortParameters(rate, DATA_BITS, SerialPort.ONE_STOP_BIT, SerialPort.NO_PARITY);
    port.setFlowControl(SerialPort.FLOW_CONTROL_DISABLED);
    port.setComPortTimeouts(SerialPort.TIMEOUT_READ_SEMI_BLOCKING, READ_TIMEOUT_MS, 0);
    if (!port.openPort()) {
      throw new IOException("cannot be opened: " + words(port.getLastErrorCode()));
    }
    return port;
  }

  private SerialPort find() throws IOException {
    try {
      return SerialPort.getCommPort(path);
    } catch (SerialPortInvalidPortException e) {
      throw new IOException("does not answer: no such device", e);
    }
  }

  private static String words(int error) {
    return switch (error) {
      case PERMISSION_DENIED -> "no permission; on most systems the group 'dialout' has it";
      case NOT_A_TERMINAL -> "this is no serial device";
      case BUSY -> "another program uses it";
      default -> "system error " + error + "; perhaps another program uses it";
    };
  }
}
