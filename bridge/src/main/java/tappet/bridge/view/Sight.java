package tappet.bridge.view;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * All that people see of the railroad at one moment: facts by kind of thing and by its id.
 *
 * @param kinds the facts; neither the map nor those in it change
 */
public record Sight(Map<String, Map<String, Facts>> kinds) {

  public Sight {
    Map<String, Map<String, Facts>> copy = new LinkedHashMap<>();
    kinds.forEach((kind, things) -> copy.put(kind, Collections.unmodifiableMap(things)));
    kinds = Collections.unmodifiableMap(copy);
  }

  /**
   * What is different from before: the facts of each thing that has changed or come, nothing for
   * one that has gone.
   */
  public Map<String, Map<String, Optional<Facts>>> since(Sight before) {
    Map<String, Map<String, Optional<Facts>>> changes = new LinkedHashMap<>();
    kinds.forEach((kind, things) -> note(kind, things, before.of(kind), changes));
    return changes;
  }

  private static void note(
      String kind,
      Map<String, Facts> now,
      Map<String, Facts> before,
      Map<String, Map<String, Optional<Facts>>> changes) {
    Map<String, Optional<Facts>> changed = new LinkedHashMap<>();
    now.forEach(
        (id, facts) -> {
          if (!facts.equals(before.get(id))) {
            changed.put(id, Optional.of(facts));
          }
        });
    before.keySet().stream()
        .filter(id -> !now.containsKey(id))
        .forEach(id -> changed.put(id, Optional.empty()));
    if (!changed.isEmpty()) {
      changes.put(kind, changed);
    }
  }

  /** The things of a kind. */
  public Map<String, Facts> of(String kind) {
    return kinds.getOrDefault(kind, Map.of());
  }

  /** The sections of somebody's permit; none where they have no permit. */
  public List<String> permitOf(String holder) {
    return of("protection").values().stream()
        .filter(facts -> facts.says("by", "permit") && facts.says("holder", holder))
        .flatMap(facts -> facts.texts("on").stream())
        .toList();
  }
}
