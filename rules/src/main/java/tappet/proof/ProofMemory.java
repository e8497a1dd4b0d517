package tappet.proof;

import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * What one proof hands to the next: which lemmas held, and the fingerprints of all that needs no
 * second look while it says the same. After an edit only what the edit touches is proven anew.
 *
 * <p>It is asked and told by many threads at once.
 */
public final class ProofMemory {

  /** Whoever changes how a question is asked counts on, and what is remembered is void. */
  private static final String EDITION = "tappet proof memory 3";

  private static final String LEMMA = "lemma ";

  private final Set<String> lemmasBefore;
  private final Set<String> knownBefore;
  private final Set<String> known = ConcurrentHashMap.newKeySet();
  private volatile List<String> lemmas = List.of();

  private ProofMemory(Set<String> lemmasBefore, Set<String> knownBefore) {
    this.lemmasBefore = lemmasBefore;
    this.knownBefore = knownBefore;
  }

  /** Nothing is remembered. */
  public static ProofMemory none() {
    return new ProofMemory(Set.of(), Set.of());
  }

  /** What an earlier proof left as {@link #text}; nothing where it was another edition. */
  public static ProofMemory of(String text) {
    List<String> lines = text.lines().toList();
    if (lines.isEmpty() || !lines.get(0).equals(EDITION)) {
      return none();
    }
    Set<String> lemmas = new LinkedHashSet<>();
    Set<String> known = new LinkedHashSet<>();
    for (String line : lines.subList(1, lines.size())) {
      if (line.startsWith(LEMMA)) {
        lemmas.add(line.substring(LEMMA.length()));
      } else {
        known.add(line);
      }
    }
    return new ProofMemory(lemmas, known);
  }

  /** What is worth remembering of this proof, a line each. */
  public String text() {
    return Stream.of(
            Stream.of(EDITION), lemmas.stream().map(LEMMA::concat), known.stream().sorted())
        .flatMap(lines -> lines)
        .collect(Collectors.joining("\n", "", "\n"));
  }

  /** Whether nothing is remembered. */
  boolean isEmpty() {
    return knownBefore.isEmpty();
  }

  /** The lemmas that held the last time. */
  Set<String> lemmasBefore() {
    return lemmasBefore;
  }

  /** Remembers these lemmas, and of the last time as many again: an edit may be undone. */
  void keep(List<Lemma> standing) {
    Set<String> kept = new LinkedHashSet<>();
    standing.forEach(lemma -> kept.add(lemma.toString()));
    lemmas =
        Stream.concat(kept.stream(), lemmasBefore.stream())
            .distinct()
            .limit(2L * kept.size())
            .toList();
  }

  /** Whether what has this fingerprint needs no second look; it stays remembered. */
  boolean knows(Fingerprint fingerprint) {
    boolean knows = knownBefore.contains(fingerprint.toString());
    if (knows) {
      note(fingerprint);
    }
    return knows;
  }

  /** What has this fingerprint needs no second look the next time. */
  void note(Fingerprint fingerprint) {
    known.add(fingerprint.toString());
  }
}
