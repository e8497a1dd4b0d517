package tappet.source;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
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
        .orElseGet(() -> (names.size() == 1 ? "the only one is " : "there are ") + few(names));
  }

  /** A few names, and how many more there are: {@code a, b and c}, {@code a, b and 12 more}. */
  public static String few(Collection<String> names) {
    return listed(names, "and");
  }

  /** A few names of which one is to be chosen: {@code a, b or c}. */
  public static String oneOf(Collection<String> names) {
    return listed(names, "or");
  }

  private static String listed(Collection<String> names, String joint) {
    List<String> parts = new ArrayList<>(names.stream().limit(NAMES_SHOWN_MAX).toList());
    if (names.size() > parts.size()) {
      parts.add((names.size() - parts.size()) + " more");
    }
    int most = parts.size() - 1;
    return most < 1
        ? String.join("", parts)
        : String.join(", ", parts.subList(0, most)) + " " + joint + " " + parts.get(most);
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
