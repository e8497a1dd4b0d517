package tappet.interlocking;

import java.util.List;
import java.util.Optional;
import tappet.sentence.Protected;

/**
 * People at work are protected: who, where, since when and why.
 *
 * @param by what protects them
 * @param devices the ids of the sections, the switch or the signal it is on; several only for a
 *     permit
 * @param holder who is protected, and who alone gives it up
 * @param since when it was asked for
 * @param reason why, where that was said
 */
public record Protection(
    Protected by, List<String> devices, String holder, Moment since, Optional<String> reason) {

  public Protection {
    devices = List.copyOf(devices);
    if (devices.isEmpty() || (by != Protected.PERMIT && devices.size() > 1)) {
      throw new IllegalArgumentException(by + " on " + devices);
    }
  }

  /** {@code permit of Way Freight on mill-branch, yard-lead}. */
  public String words() {
    String where = String.join(", ", devices);
    return switch (by) {
      case PERMIT -> "permit of " + holder + " on " + where;
      case FLAG -> "blue flag of " + holder + " on section " + where;
      case BLOCKED_SIGNAL, BLOCKED_SWITCH, BLOCKED_SECTION ->
          "blocking of " + by.device().word() + " " + where + " for " + holder;
    };
  }

  /** {@link #words} with when and why. */
  public String wholeStory() {
    return words() + details();
  }

  /** {@code since … (reason)} with a blank before it, as far as it is known. */
  String details() {
    String when = since.since().isEmpty() ? "" : " " + since.since();
    return when + reason.map(why -> " (" + why + ")").orElse("");
  }
}
