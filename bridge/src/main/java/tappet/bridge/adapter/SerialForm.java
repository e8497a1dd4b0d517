package tappet.bridge.adapter;

import tappet.bridge.hub.Access;

/** How CAN frames are written on a serial line. */
public enum SerialForm {
  /** Text frames, as LCC's own adapters speak: {@code :X19A284AAN03CC00;}. */
  TEXT {
    @Override
    SerialCodec codec(String name, Access access, TrafficCount traffic, LineTrouble trouble) {
      return new TextCodec(name, traffic);
    }
  },

  /**
   * The ASCII protocol of general CAN adapters, for which Linux has a driver named slcan: {@code
   * T19A284AA303CC00} and a carriage return. The adapter is set to 125 kbit/s (S-9.7.1.1) and
   * opened each time its device comes up; where it is only overheard, so that it sends nothing.
   */
  SLCAN {
    @Override
    SerialCodec codec(String name, Access access, TrafficCount traffic, LineTrouble trouble) {
      return new SlcanCodec(access, traffic, trouble);
    }
  };

  /**
   * What reads and writes one opening of a device.
   *
   * @param name the connection's, for the log
   * @param access one that does not hear is to say nothing on the bus
   * @param trouble hears what the line's own device tells of it
   */
  abstract SerialCodec codec(String name, Access access, TrafficCount traffic, LineTrouble trouble);
}
