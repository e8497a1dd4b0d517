package tappet.rules;

import tappet.sentence.Condition;
import tappet.source.Place;

/**
 * A condition that an owner demands of one device, besides all that the trade demands.
 *
 * @param of what the device is
 * @param id the device
 * @param condition what must be true for a signal to clear, for a switch to move, or for an
 *     electric lock to be released
 * @param place where it stands
 */
public record OwnersNeed(Of of, String id, Condition condition, Place place) {

  /** What a device is. */
  public enum Of {
    SIGNAL("signal"),
    SWITCH("switch"),
    LOCK("lock");

    private final String word;

    Of(String word) {
      this.word = word;
    }

    /** The key under which an owner names the device. */
    public String word() {
      return word;
    }
  }
}
