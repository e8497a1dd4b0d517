package tappet.bridge.reload;

import java.time.Duration;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What a person wants of new files.
 *
 * @param isTry only to be told what would be
 * @param patience how long to wait until nothing stands against it any more; zero: now or not
 * @param unproven take rules that are not proven without trying to prove them
 */
public record Wish(boolean isTry, Duration patience, boolean unproven) {

  /** How long anybody may want to wait. */
  public static final Duration PATIENCE_MAX = Duration.ofHours(12);

  private static final Pattern WRITTEN = Pattern.compile("(try|apply|wait (\\d{1,5}))( unproven)?");

  /** A wish as it is written: {@code try}, {@code apply} or {@code wait 60}, in seconds. */
  public static Optional<Wish> of(String written) {
    Matcher matcher = WRITTEN.matcher(written.strip());
    if (!matcher.matches()) {
      return Optional.empty();
    }
    Duration patience =
        Duration.ofSeconds(matcher.group(2) == null ? 0 : Long.parseLong(matcher.group(2)));
    return Optional.of(new Wish(matcher.group(1).equals("try"), patience, matcher.group(3) != null))
        .filter(wish -> wish.patience().compareTo(PATIENCE_MAX) <= 0);
  }

  /** It as it is written. */
  public String text() {
    String what = isTry ? "try" : patience.isZero() ? "apply" : "wait " + patience.toSeconds();
    return unproven ? what + " unproven" : what;
  }
}
