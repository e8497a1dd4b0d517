package tappet.rules;

import java.util.Map;
import java.util.Optional;
import tappet.layout.Signal;
import tappet.source.Place;

/**
 * What a signal shows for one speed, by what the next signal shows.
 *
 * @param speed the speed's name
 * @param beyond the aspect shown for each aspect of the next signal; {@code stop} is always there
 * @param place where it stands
 */
public record AspectLadder(String speed, Map<String, String> beyond, Place place) {

  /** The aspect with the next signal at Stop, or with none. */
  public String lowest() {
    return beyond.get(Signal.STOP);
  }

  /** The aspect beyond a signal that shows {@code next}. */
  public Optional<String> aspectBeyond(String next) {
    return Optional.ofNullable(beyond.get(next));
  }
}
