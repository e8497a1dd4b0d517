package tappet.interlocking;

import java.util.Optional;
import tappet.source.Place;

/**
 * A device or a route of which two interlockings do not say the same.
 *
 * @param key its kind and id, such as {@code route t2e-t4e}
 * @param how what has become of it
 * @param place where it stands in the owner's files; empty where it stands in none
 */
public record ChangedDevice(String key, How how, Optional<Place> place) {

  /** What has become of a device. */
  public enum How {
    /** Only the new rules or layout have it. */
    NEW("is new"),
    /** It follows other equations now. */
    CHANGED("has changed"),
    /** It is heard or told by other events now. */
    REWIRED("is wired otherwise"),
    /** The new rules or layout have it no more. */
    GONE("is gone");

    private final String words;

    How(String words) {
      this.words = words;
    }

    /** It for people: {@code has changed}. */
    public String words() {
      return words;
    }
  }

  /** {@code route t2e-t4e has changed}. */
  public String words() {
    return key + " " + how.words();
  }

  /** {@code rules.yaml:12:5: route t2e-t4e has changed}, without the place where there is none. */
  @Override
  public String toString() {
    return place.map(where -> where + ": ").orElse("") + words();
  }
}
