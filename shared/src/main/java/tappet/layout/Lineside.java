package tappet.layout;

import java.util.Collection;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.lcc.EventId;

/**
 * The devices of a layout besides sections, switches and signals, each kind by id in the order of
 * the file.
 *
 * @param districts the power districts
 * @param openings track that can be taken out or turned away
 * @param lamps the lamps on the fascia
 * @param buttons the push buttons and slide switches on the fascia
 * @param spots the spot detectors
 * @param crossings the grade crossings
 */
public record Lineside(
    Map<String, PowerDistrict> districts,
    Map<String, Opening> openings,
    Map<String, Lamp> lamps,
    Map<String, Button> buttons,
    Map<String, SpotDetector> spots,
    Map<String, GradeCrossing> crossings) {

  /** No such devices. */
  public static final Lineside NONE =
      new Lineside(Map.of(), Map.of(), Map.of(), Map.of(), Map.of(), Map.of());

  /** The devices of each kind, under the kind's name for people. */
  public Map<String, Collection<? extends LinesideDevice>> byKind() {
    Map<String, Collection<? extends LinesideDevice>> kinds = new LinkedHashMap<>();
    kinds.put("Power districts", districts.values());
    kinds.put("Openings", openings.values());
    kinds.put("Lamps", lamps.values());
    kinds.put("Buttons", buttons.values());
    kinds.put("Spot detectors", spots.values());
    kinds.put("Grade crossings", crossings.values());
    return kinds;
  }

  /** All of them. */
  public List<LinesideDevice> devices() {
    return byKind().values().stream().<LinesideDevice>flatMap(Collection::stream).toList();
  }

  /** The power district that feeds a section, where the owner has named one. */
  public Optional<PowerDistrict> districtOf(String section) {
    return districts.values().stream()
        .filter(district -> district.sections().contains(section))
        .findFirst();
  }

  /** Two events, each under its word, in this order. */
  static Map<String, EventId> events(String word, EventId event, String other, EventId otherEvent) {
    Map<String, EventId> events = new LinkedHashMap<>();
    events.put(word, event);
    events.put(other, otherEvent);
    return Collections.unmodifiableMap(events);
  }
}
