package tappet.rules;

import java.time.Duration;
import java.util.Optional;
import tappet.sentence.Command;
import tappet.source.Place;

/**
 * What a button on the fascia asks of the interlocking.
 *
 * @param button the button
 * @param onPress what it asks when it is pressed
 * @param onRelease what it asks when it is released; for slide switches
 * @param granted the lamp that tells that it was granted
 * @param refused the lamp that tells that it was refused
 * @param shown how long these lamps are lit, above 0
 * @param place where it stands
 */
public record ButtonRequest(
    String button,
    Optional<Asked> onPress,
    Optional<Asked> onRelease,
    Optional<String> granted,
    Optional<String> refused,
    Duration shown,
    Place place) {

  /**
   * A command as the owner wrote it.
   *
   * @param sentence its words
   * @param command what they mean
   */
  public record Asked(String sentence, Command command) {}
}
