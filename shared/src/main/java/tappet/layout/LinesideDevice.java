package tappet.layout;

import java.util.Map;
import tappet.lcc.EventId;
import tappet.source.Place;

/** A device of the field that is neither section nor switch nor signal. */
public sealed interface LinesideDevice
    permits PowerDistrict, Opening, Lamp, Button, SpotDetector, GradeCrossing {

  /** The owner's identifier, alone among the devices of its kind. */
  String id();

  /** The owner's name for people, the id where none was given. */
  String name();

  /** What kind of device it is, in trade words. */
  String kind();

  /** The events by which it tells what it is, each under its word. */
  Map<String, EventId> tells();

  /** The events by which it is told what to do, each under its word. */
  Map<String, EventId> told();

  /** Where it stands in the layout file. */
  Place place();

  /** Kind and id: {@code power district west}. */
  default String key() {
    return kind() + " " + id();
  }
}
