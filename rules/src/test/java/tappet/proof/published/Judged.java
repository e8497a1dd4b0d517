package tappet.proof.published;

import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Predicate;
import tappet.proof.Finding;
import tappet.proof.Proof;
import tappet.proof.ProofMemory;
import tappet.proof.Property;
import tappet.proof.Story;
import tappet.proof.Verdict;
import tappet.proof.Watched;

/**
 * What the proof says of a network, property by property under the words of each.
 *
 * @param proven what holds
 * @param disproven what can be broken, and how
 * @param unproven what has neither a proof nor a story
 */
record Judged(Set<String> proven, Map<String, Story> disproven, Set<String> unproven) {

  static Judged of(Watched watched) {
    Judged judged = new Judged(new LinkedHashSet<>(), new LinkedHashMap<>(), new LinkedHashSet<>());
    Proof.of(watched, ProofMemory.none(), (work, done, of) -> {}).findings().forEach(judged::sort);
    return judged;
  }

  /** Of some properties only. */
  static Judged of(Watched watched, Predicate<Property> wanted) {
    return of(
        new Watched(
            watched.network(),
            watched.properties().stream().filter(wanted).toList(),
            watched.happenings(),
            watched.assumptions()));
  }

  private void sort(Finding finding) {
    String words = finding.property().words();
    if (finding.verdict() instanceof Verdict.Disproven told) {
      disproven.put(words, told.story());
    } else {
      (finding.verdict() instanceof Verdict.Proven ? proven : unproven).add(words);
    }
  }

  /** What happens in a story, a line a moment. */
  static List<String> moments(Story story) {
    return story.moments().stream().map(Story.Moment::words).toList();
  }
}
