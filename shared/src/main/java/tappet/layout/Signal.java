package tappet.layout;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.lcc.EventId;
import tappet.source.Place;

/**
 * A signal that governs movements from a joint into a section, or repeats one that does.
 *
 * @param id the owner's identifier
 * @param name the owner's name for people, the id where none was given
 * @param at the joint it stands at
 * @param into the section it leads into
 * @param kind what it means at its most restrictive aspect
 * @param heads how its heads are made, from the top down; empty where the owner does not say
 * @param shows the event that makes it show each aspect, in the order of the file; {@value #STOP}
 *     is always there, unless its lamps are switched one by one
 * @param lights its lamps, where they are switched one by one
 * @param dark the event that puts all its lights out
 * @param repeats the signal whose aspect it repeats; no route starts at a repeater or ends there
 * @param place where it stands in the layout file
 */
public record Signal(
    String id,
    String name,
    String at,
    String into,
    SignalKind kind,
    List<HeadKind> heads,
    Map<String, EventId> shows,
    Optional<Lights> lights,
    Optional<EventId> dark,
    Optional<String> repeats,
    Place place) {

  /** The name of the most restrictive aspect. */
  public static final String STOP = "stop";

  /** An absolute signal that is told its aspects by an event each. */
  public Signal(
      String id, String name, String at, String into, Map<String, EventId> shows, Place place) {
    this(
        id,
        name,
        at,
        into,
        SignalKind.ABSOLUTE,
        List.of(),
        shows,
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        place);
  }

  /** The aspects it can show, Stop among them. */
  public Set<String> aspects() {
    return lights.map(lit -> lit.looks().aspects().keySet()).orElse(shows.keySet());
  }

  /** An aspect as people call it: {@value #STOP} by what it means at a signal of this kind. */
  public String called(String aspect) {
    return aspect.equals(STOP) ? kind.mostRestrictive() : aspect;
  }

  /** Whether its lights can be put out while nobody is there to see them. */
  public boolean canGoDark() {
    return lights.isPresent() || dark.isPresent();
  }

  /** Every event that it is told by. */
  public List<EventId> events() {
    List<EventId> events = new ArrayList<>(shows.values());
    lights.ifPresent(lit -> events.addAll(lit.events()));
    dark.ifPresent(events::add);
    return events;
  }
}
