package tappet.interlocking;

import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.layout.Switch;

/**
 * To whom switches are released: names in a book beside the network, which explain, and keep a
 * switch from being released to somebody else. They open nothing.
 */
final class LockHolders {

  private final Map<String, String> names = new LinkedHashMap<>();

  /** Switches that somebody had before the start, and of which nobody has said anything since. */
  private final Set<String> ofBefore = new LinkedHashSet<>();

  /** Notes to whom a switch is released; empty for nobody in particular. */
  void note(String switchId, Optional<String> name) {
    ofBefore.remove(switchId);
    name.ifPresentOrElse(holder -> names.put(switchId, holder), () -> names.remove(switchId));
  }

  /** Notes who had a switch before the start. */
  void restore(Map<String, String> before) {
    names.putAll(before);
    ofBefore.addAll(before.keySet());
  }

  /** A lock is found to hold its switch: whoever had that before the start has it no more. */
  void foundSecured(String switchId) {
    if (ofBefore.remove(switchId)) {
      names.remove(switchId);
    }
  }

  /** The names of another book. */
  void goOn(LockHolders before) {
    names.clear();
    names.putAll(before.names);
    ofBefore.clear();
    ofBefore.addAll(before.ofBefore);
  }

  /** To whom a switch was released; empty where no name was said. */
  Optional<String> of(String switchId) {
    return Optional.ofNullable(names.get(switchId));
  }

  /** Who had a switch before the start, and may have it still. */
  Optional<String> ofBefore(String switchId) {
    return of(switchId).filter(any -> ofBefore.contains(switchId));
  }

  /** {@code to Extra 41} behind what has been said of the switch, where there is a name. */
  String to(String said, Switch toe) {
    String name = names.get(toe.id());
    return name == null ? said : said + " to " + name;
  }
}
