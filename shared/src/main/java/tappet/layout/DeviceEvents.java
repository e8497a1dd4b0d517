package tappet.layout;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** By which events the devices of a layout are heard and told. */
public final class DeviceEvents {

  private DeviceEvents() {}

  /**
   * By kind and id, such as {@code section west}: all by which a device is heard and told. Two
   * devices for which it is equal say and hear the same on the bus.
   */
  public static Map<String, List<Object>> of(Layout layout) {
    Map<String, List<Object>> events = new LinkedHashMap<>();
    layout
        .sections()
        .forEach((id, it) -> events.put("section " + id, List.of(it.occupied(), it.clear())));
    layout
        .switches()
        .forEach((id, it) -> events.put("switch " + id, List.of(it.to(), it.at(), it.working())));
    layout
        .switches()
        .forEach(
            (id, it) ->
                it.lock()
                    .ifPresent(lock -> events.put("lock " + id, List.of(lock.to(), lock.at()))));
    layout
        .signals()
        .forEach(
            (id, it) -> events.put("signal " + id, List.of(it.shows(), it.lights(), it.dark())));
    layout.lineside().devices().forEach(it -> events.put(it.key(), List.of(it.tells(), it.told())));
    return events;
  }
}
