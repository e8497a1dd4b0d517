package tappet.interlocking;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import tappet.layout.Switch;

/**
 * To whom switches are released: names in a book beside the network, which explain and decide
 * nothing.
 */
final class LockHolders {

  private final Map<String, String> names = new LinkedHashMap<>();

  /** Notes to whom a switch is released; empty for nobody in particular. */
  void note(String switchId, Optional<String> name) {
    name.ifPresentOrElse(holder -> names.put(switchId, holder), () -> names.remove(switchId));
  }

  /** The names of another book. */
  void goOn(LockHolders before) {
    names.clear();
    names.putAll(before.names);
  }

  /** To whom a switch was released; empty where no name was said. */
  Optional<String> of(String switchId) {
    return Optional.ofNullable(names.get(switchId));
  }

  /** {@code to Extra 41} behind what has been said of the switch, where there is a name. */
  String to(String said, Switch toe) {
    String name = names.get(toe.id());
    return name == null ? said : said + " to " + name;
  }
}
