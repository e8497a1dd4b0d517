package tappet.bridge.proof;

import java.util.List;
import java.util.Map;
import tappet.proof.Finding;
import tappet.proof.Property;
import tappet.proof.Verdict;
import tappet.proof.track.LooseEnd;

/**
 * What a proof has found, for people.
 *
 * @param findings one for each property
 * @param accounts how each property that is disproven comes to be broken
 * @param assumptions what was taken to be so
 * @param looseEnds what is safe, and perhaps not what the owner means
 */
public record ProofReport(
    List<Finding> findings,
    Map<Property, Account> accounts,
    List<String> assumptions,
    List<LooseEnd> looseEnds) {

  /** What a line of the text begins with that tells of something disproven. */
  public static final String DISPROVEN = "DISPROVEN";

  /** What is found of the rules as a whole. */
  public KeptVerdict.Answer answer() {
    if (findings.stream().anyMatch(ProofReport::isDisproven)) {
      return KeptVerdict.Answer.DISPROVEN;
    }
    return findings.stream().allMatch(ProofReport::isProven)
        ? KeptVerdict.Answer.PROVEN
        : KeptVerdict.Answer.NOT_PROVEN;
  }

  /** The properties that are not proven, in plain words. */
  public List<String> open() {
    return findings.stream()
        .filter(finding -> !isProven(finding))
        .map(finding -> finding.property().words())
        .toList();
  }

  /** The table, then every property that is not proven, then what it all rests on. */
  public String text() {
    StringBuilder text = new StringBuilder();
    for (Property.Kind kind : Property.Kind.values()) {
      List<Finding> own =
          findings.stream().filter(finding -> finding.property().kind() == kind).toList();
      if (!own.isEmpty()) {
        text.append(line(kind, own));
      }
    }
    findings.stream()
        .filter(finding -> !isProven(finding))
        .forEach(finding -> text.append(told(finding)));
    findings.stream()
        .filter(finding -> !finding.said())
        .forEach(
            finding ->
                text.append("says nothing, since it never comes to that: ")
                    .append(finding.property().words())
                    .append('\n'));
    looseEnds.forEach(open -> text.append("look at: ").append(open.text()).append('\n'));
    assumptions.forEach(assumption -> text.append("assumed: ").append(assumption).append('\n'));
    return text.toString();
  }

  private static String line(Property.Kind kind, List<Finding> own) {
    long proven = own.stream().filter(ProofReport::isProven).count();
    long disproven = own.stream().filter(ProofReport::isDisproven).count();
    String verdict = disproven > 0 ? DISPROVEN : proven == own.size() ? "proven" : "not proven";
    return "%-10s %3d of %3d  %s (%s)%n"
        .formatted(verdict, proven, own.size(), kind.words(), kind.source());
  }

  private String told(Finding finding) {
    String words = finding.property().words();
    if (finding.verdict() instanceof Verdict.Disproven) {
      return "\n%s: %s%n%s%n".formatted(DISPROVEN, words, accounts.get(finding.property()).text());
    }
    Verdict.Unproven unproven = (Verdict.Unproven) finding.verdict();
    return "\nnot proven, and not broken in any story of up to %d ticks: %s%n"
        .formatted(unproven.ticks(), words);
  }

  private static boolean isProven(Finding finding) {
    return finding.verdict() instanceof Verdict.Proven;
  }

  private static boolean isDisproven(Finding finding) {
    return finding.verdict() instanceof Verdict.Disproven;
  }
}
