package tappet.proof.mutants;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import tappet.proof.edit.Tree;
import tappet.proof.mutants.Fault.Kind;
import tappet.proof.mutants.Finding.Verdict;

/**
 * A fault in a rule file is refused by the check, disproven by a story that the network plays,
 * shown to be none, or accounted for (interlocking sheet, H.18: a proof that finds fault with
 * nothing is worth nothing). A sample by chance; all of them: {@code rules/bin/mutants}.
 */
class MutantsTest {

  private static final List<String> SAMPLED = List.of("starter", "crossing-loop");
  private static final int EACH = 16;
  private static final int TICKS_MAX = 24;
  private static final long SEED = Long.getLong("tappet.seed", 1);

  @Test
  void everyFaultOfTheSampleIsAccountedFor() {
    List<Finding> findings = new ArrayList<>();
    for (String name : SAMPLED) {
      SoundRailroad railroad = SoundRailroad.named(name);
      Court court = new Court(railroad, TICKS_MAX);
      for (Fault fault : Mutants.some(railroad, EACH, SEED)) {
        Finding finding = court.finding(fault);
        findings.add(finding);
        if (finding.verdict() == Verdict.EQUIVALENT) {
          assertTrue(TwinOperation.ordersGivenAlike(railroad, fault.text()) > 0, fault.words());
        }
      }
    }
    System.out.println("MutantsTest: seed " + SEED + "\n" + Mutants.table(findings));
    assertEquals(
        List.of(), findings.stream().filter(finding -> !finding.isAccountedFor()).toList());
    Set<Verdict> verdicts =
        findings.stream()
            .map(Finding::verdict)
            .collect(Collectors.toCollection(() -> EnumSet.noneOf(Verdict.class)));
    assertTrue(
        verdicts.containsAll(EnumSet.of(Verdict.REFUSED, Verdict.DISPROVEN, Verdict.EQUIVALENT)),
        "only " + verdicts);
  }

  @Test
  void thereAreEnoughFaults() {
    long faults =
        SoundRailroad.NAMES.stream()
            .map(SoundRailroad::named)
            .mapToLong(railroad -> Faults.in(railroad.layout(), railroad.rules()).size())
            .sum();
    assertTrue(faults >= 400, "only " + faults);
  }

  /** The demo has neither flank switches, conflicts, overlaps nor needs of its owner. */
  @Test
  void whateverARuleFileCanSayIsSpoiled() {
    SoundRailroad starter = SoundRailroad.named("starter");
    String rules =
        starter
            .rules()
            .replace(
                "{from: w4w,",
                "{flank: {w1: normal}, not with: [w6w-west-end], needs: section main is clear,"
                    + " overlap: {clear: [main], switches: {w1: normal}, time: 8 s}, from: w4w,");
    Set<Kind> kinds =
        Faults.in(starter.layout(), rules).stream().map(Fault::kind).collect(Collectors.toSet());
    assertTrue(
        kinds.containsAll(
            EnumSet.of(
                Kind.FLANK_FLIPPED,
                Kind.FLANK_LEFT_OUT,
                Kind.CONFLICT_LEFT_OUT,
                Kind.OVERLAP_LEFT_OUT,
                Kind.NEED_LEFT_OUT)),
        "only " + kinds);
    Set<Kind> others = EnumSet.allOf(Kind.class);
    others.removeAll(kinds);
    SoundRailroad demo = SoundRailroad.named("demo");
    Faults.in(demo.layout(), demo.rules()).forEach(fault -> others.remove(fault.kind()));
    assertEquals(EnumSet.noneOf(Kind.class), others);
  }

  /** A fault is the only difference: the file written anew without one has the same network. */
  @Test
  void aFileThatIsWrittenAnewMeansTheSame() {
    Stream.of("starter", "demo", "railml-station")
        .map(SoundRailroad::named)
        .forEach(
            railroad ->
                assertEquals(
                    TwinOperation.meanings(railroad, railroad.rules()),
                    TwinOperation.meanings(railroad, Tree.of(railroad.rules()).text())));
  }
}
