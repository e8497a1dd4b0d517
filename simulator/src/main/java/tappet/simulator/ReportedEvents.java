package tappet.simulator;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import tappet.layout.ElectricLock;
import tappet.layout.Layout;
import tappet.layout.Opening;
import tappet.layout.PowerDistrict;
import tappet.layout.Section;
import tappet.layout.Switch;
import tappet.lcc.EventId;
import tappet.sentence.Happening.Reporter;

/** By which events boards tell of a device, each under the word that sentences have for it. */
public final class ReportedEvents {

  private ReportedEvents() {}

  /**
   * The events of one device, in the order of the layout file.
   *
   * @param id the section, switch, opening or power district
   * @return empty if there is no such device, or no board tells of it
   */
  public static Map<String, EventId> of(Layout layout, Reporter reporter, String id) {
    Map<String, EventId> events = new LinkedHashMap<>();
    Optional<Switch> toe = Optional.ofNullable(layout.switches().get(id));
    Optional<Opening> opening = Optional.ofNullable(layout.lineside().openings().get(id));
    switch (reporter) {
      case SECTION ->
          Optional.ofNullable(layout.sections().get(id)).ifPresent(section -> add(section, events));
      case SWITCH ->
          toe.ifPresent(known -> known.at().forEach((is, event) -> events.put(is.word(), event)));
      case LOCK -> toe.flatMap(Switch::lock).ifPresent(lock -> add(lock, events));
      case OPENING -> opening.ifPresent(known -> add(known, events));
      case BOLT -> opening.flatMap(Opening::lock).ifPresent(bolt -> add(bolt, events));
      case BREAKER ->
          Optional.ofNullable(layout.lineside().districts().get(id))
              .ifPresent(district -> add(district, events));
    }
    return events;
  }

  private static void add(Section section, Map<String, EventId> events) {
    events.put("occupied", section.occupied());
    events.put("clear", section.clear());
  }

  private static void add(ElectricLock lock, Map<String, EventId> events) {
    lock.at().forEach((is, event) -> events.put(is.word(), event));
  }

  private static void add(Opening opening, Map<String, EventId> events) {
    events.put("closed", opening.closed());
    events.put("open", opening.open());
  }

  private static void add(Opening.Lock bolt, Map<String, EventId> events) {
    events.put("locked", bolt.locked());
    events.put("unlocked", bolt.unlocked());
  }

  private static void add(PowerDistrict district, Map<String, EventId> events) {
    events.put("tripped", district.tripped());
    events.put("restored", district.restored());
  }
}
