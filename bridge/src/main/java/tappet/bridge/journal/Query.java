package tappet.bridge.journal;

import java.time.Duration;
import java.time.Instant;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.OptionalLong;
import java.util.Set;
import tappet.source.NearNames;

/**
 * What somebody wants to know of the past. What is left out does not narrow it.
 *
 * @param sinceUs the time of day from which on, in microseconds since 1970
 * @param untilUs the time of day before which
 * @param topics what it is to be about; none: anything but frames
 * @param text stands in the line, in capitals or not
 * @param about the device or connection
 * @param who said it
 * @param session the number of a session
 * @param before only lines of lower numbers
 * @param limit so many lines at most, 1 or more
 * @param latestFirst the order; with a limit, the end that is kept
 */
public record Query(
    OptionalLong sinceUs,
    OptionalLong untilUs,
    Set<Topic> topics,
    Optional<String> text,
    Optional<String> about,
    Optional<String> who,
    OptionalInt session,
    OptionalLong before,
    int limit,
    boolean latestFirst) {

  /** Stands for all lines. */
  public static final int NO_LIMIT = Integer.MAX_VALUE;

  private static final long US_PER_MS = 1_000;

  public Query {
    topics = Set.copyOf(topics);
  }

  /** The same in this order. */
  Query latestFirst(boolean latest) {
    return new Query(sinceUs, untilUs, topics, text, about, who, session, before, limit, latest);
  }

  /**
   * What a page asks: {@code since} and {@code until} in milliseconds since 1970, {@code kind},
   * {@code find}, {@code about}, {@code who}, {@code session}, {@code before}; latest first.
   *
   * @param asked each parameter that is there, by its name
   * @throws IllegalArgumentException if it means nothing, in words
   */
  static Query ofPage(Map<String, String> asked, int limit) {
    OptionalLong session = number(asked, "session");
    return new Query(
        ms(number(asked, "since")),
        ms(number(asked, "until")),
        topics(asked.getOrDefault("kind", "")),
        given(asked, "find"),
        given(asked, "about"),
        given(asked, "who"),
        session.isPresent()
            ? OptionalInt.of(Math.toIntExact(session.getAsLong()))
            : OptionalInt.empty(),
        number(asked, "before"),
        limit,
        true);
  }

  private static Optional<String> given(Map<String, String> asked, String name) {
    return Optional.ofNullable(asked.get(name)).map(String::strip).filter(text -> !text.isEmpty());
  }

  private static OptionalLong number(Map<String, String> asked, String name) {
    Optional<String> written = given(asked, name);
    try {
      return written.isEmpty()
          ? OptionalLong.empty()
          : OptionalLong.of(Long.parseLong(written.get()));
    } catch (NumberFormatException e) {
      throw new IllegalArgumentException(
          "'%s' is '%s', expected a number".formatted(name, written.get()), e);
    }
  }

  private static OptionalLong ms(OptionalLong written) {
    return written.isPresent()
        ? OptionalLong.of(Math.multiplyExact(written.getAsLong(), US_PER_MS))
        : written;
  }

  /**
   * The topics in a list with commas.
   *
   * @throws IllegalArgumentException if one is unknown, in words
   */
  public static Set<Topic> topics(String list) {
    Set<Topic> topics = EnumSet.noneOf(Topic.class);
    for (String word : list.isBlank() ? List.<String>of() : List.of(list.split(","))) {
      String wanted = word.strip().toLowerCase(Locale.ROOT);
      if (!Topic.words().contains(wanted)) {
        throw new IllegalArgumentException(
            "there is no kind '%s'; %s"
                .formatted(wanted, NearNames.meant(wanted, Topic.words(), "")));
      }
      topics.add(Topic.valueOf(wanted.toUpperCase(Locale.ROOT)));
    }
    return topics;
  }

  /** The time so long before another, in microseconds since 1970. */
  public static long before(Instant now, Duration ago) {
    return now.minus(ago).toEpochMilli() * US_PER_MS;
  }
}
