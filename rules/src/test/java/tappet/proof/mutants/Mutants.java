package tappet.proof.mutants;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.stream.Collectors;
import tappet.proof.mutants.Fault.Kind;
import tappet.proof.mutants.Finding.Verdict;

/**
 * Seeds faults in the rule files of railroads that are sound, and prints what becomes of them:
 *
 * <pre>
 *   rules/bin/mutants                          all of them, on all railroads
 *   rules/bin/mutants --each 40 --seed 7 demo  so many by chance on each railroad that is named
 * </pre>
 *
 * {@code --ticks 8} looks for short stories only: what is then unproven may need a longer one.
 *
 * <p>Exit status 1 where a fault is not accounted for.
 */
final class Mutants {

  /** The longest story that a fault here has been seen to need has 27. */
  private static final int TICKS_MAX = 30;

  private Mutants() {}

  public static void main(String[] words) {
    List<String> names = new ArrayList<>();
    int each = Integer.MAX_VALUE;
    long seed = 1;
    int ticks = TICKS_MAX;
    for (int word = 0; word < words.length; word++) {
      switch (words[word]) {
        case "--each" -> each = Integer.parseInt(words[++word]);
        case "--seed" -> seed = Long.parseLong(words[++word]);
        case "--ticks" -> ticks = Integer.parseInt(words[++word]);
        default -> names.add(words[word]);
      }
    }
    List<Finding> findings = new ArrayList<>();
    for (String name : names.isEmpty() ? SoundRailroad.NAMES : names) {
      findings.addAll(findings(SoundRailroad.named(name), each, seed, ticks));
    }
    System.out.println(table(findings));
    System.out.println(survivors(findings));
    System.exit(findings.stream().allMatch(Finding::isAccountedFor) ? 0 : 1);
  }

  private static List<Finding> findings(SoundRailroad railroad, int each, long seed, int ticks) {
    List<Fault> faults = some(railroad, each, seed);
    System.err.println(railroad.name() + ": " + faults.size() + " faults");
    Court court = new Court(railroad, ticks);
    List<Finding> findings = new ArrayList<>();
    for (Fault fault : faults) {
      Finding finding = court.finding(fault);
      findings.add(finding);
      System.err.println(findings.size() + ". " + finding);
    }
    return findings;
  }

  /** Faults by chance: the same seed gives the same ones. */
  static List<Fault> some(SoundRailroad railroad, int count, long seed) {
    List<Fault> faults = new ArrayList<>(Faults.in(railroad.layout(), railroad.rules()));
    if (count >= faults.size()) {
      return faults;
    }
    Collections.shuffle(faults, new Random(seed));
    return faults.subList(0, count);
  }

  /** A line a kind of fault, a column a verdict. */
  static String table(List<Finding> findings) {
    StringBuilder table = new StringBuilder("%-62s".formatted("fault"));
    for (Verdict verdict : Verdict.values()) {
      table.append(" %14s".formatted(verdict));
    }
    for (Kind kind : Kind.values()) {
      List<Finding> ofKind = findings.stream().filter(one -> one.fault().kind() == kind).toList();
      if (!ofKind.isEmpty()) {
        table.append(line(kind.toString(), ofKind));
      }
    }
    return table.append(line("all", findings)).append('\n').toString();
  }

  private static String line(String title, List<Finding> findings) {
    Map<Verdict, Long> counts =
        findings.stream()
            .collect(
                Collectors.groupingBy(
                    Finding::verdict, () -> new EnumMap<>(Verdict.class), Collectors.counting()));
    return Arrays.stream(Verdict.values())
        .map(verdict -> " %14s".formatted(counts.containsKey(verdict) ? counts.get(verdict) : ""))
        .collect(Collectors.joining("", "\n%-62s".formatted(title), ""));
  }

  /** Those that nothing has caught, by kind, each kind with its reason. */
  static String survivors(List<Finding> findings) {
    Map<String, List<Finding>> byReason =
        findings.stream()
            .filter(finding -> !finding.verdict().isCaught())
            .collect(Collectors.groupingBy(Mutants::heading));
    StringBuilder text = new StringBuilder("Not caught:\n");
    byReason.keySet().stream()
        .sorted()
        .forEach(
            heading -> {
              text.append("\n").append(heading).append('\n');
              byReason.get(heading).forEach(one -> text.append("  ").append(one).append('\n'));
            });
    return text.toString();
  }

  private static String heading(Finding finding) {
    return "%s, %s: %s"
        .formatted(
            finding.fault().kind(),
            finding.verdict(),
            finding.reason().orElse("NOT ACCOUNTED FOR"));
  }
}
