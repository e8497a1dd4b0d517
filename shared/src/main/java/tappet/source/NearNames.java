package tappet.source;

import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import org.apache.commons.text.similarity.DamerauLevenshteinDistance;

/** Finds the name that was probably meant. */
public final class NearNames {

  private static final int NAMES_SHOWN_MAX = 8;
  private static final int SLIPS_MAX = 3;
  private static final DamerauLevenshteinDistance SLIPS = new DamerauLevenshteinDistance(SLIPS_MAX);

  private NearNames() {}

  /**
   * The name nearest to what was written, the first of equally near ones; empty if none is near.
   */
  public static Optional<String> nearest(String written, Collection<String> names) {
    for (int slips = 0; slips <= slipsAllowed(written); slips++) {
      for (String name : names) {
        if (slips(written, name) == slips) {
          return Optional.of(name);
        }
      }
    }
    return Optional.empty();
  }

  /**
   * The second half of a message about an unknown name: the name that was probably meant, else a
   * few of those there are.
   *
   * @param whenNone what to do where there are no names at all
   */
  public static String meant(String written, Collection<String> names, String whenNone) {
    if (names.isEmpty()) {
      return whenNone;
    }
    return nearest(written, names)
        .map(name -> "did you mean '%s'?".formatted(name))
        .orElseGet(() -> "there is " + few(names));
  }

  /** The first few names, and how many more there are: {@code a, b and 12 more}. */
  public static String few(Collection<String> names) {
    List<String> shown = names.stream().limit(NAMES_SHOWN_MAX).toList();
    if (names.size() > shown.size()) {
      return String.join(", ", shown) + " and " + (names.size() - shown.size()) + " more";
    }
    if (shown.size() < 2) {
      return String.join("", shown);
    }
    return shown.stream().limit(shown.size() - 1L).collect(Collectors.joining(", "))
        + " and "
        + shown.get(shown.size() - 1);
  }

  /**
   * One slip in three letters, one in shorter names too, three at most. More, and most names of a
   * layout (t2e, t4e, j11) would be near each other; a wrong suggestion costs more than none.
   */
  private static int slipsAllowed(String written) {
    return Math.max(1, Math.min(SLIPS_MAX, written.length() / 3));
  }

  /** Slips are changed, added, dropped and swapped letters; upper and lower case are the same. */
  private static int slips(String written, String name) {
    int slips = SLIPS.apply(written.toLowerCase(Locale.ROOT), name.toLowerCase(Locale.ROOT));
    boolean nothingInCommon = slips >= Math.max(written.length(), name.length());
    return nothingInCommon ? -1 : slips;
  }
}
