package tappet.proof;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import tappet.proof.sat.Aiger;
import tappet.proof.sat.Dimacs;
import tappet.proof.sat.Unrolling;

/** What has been found of a watched network, and what it rests on. */
public final class Proof {

  /** Hears how far the work has come. */
  @FunctionalInterface
  public interface Progress {
    /**
     * Some of the work is done.
     *
     * @param work what is being done
     * @param done how much of it, from 0
     * @param of how much there is of it, above 0
     */
    void is(String work, int done, int of);
  }

  private final Watched watched;
  private final List<Lemma> lemmas;
  private final List<Finding> findings;

  Proof(Watched watched, List<Lemma> lemmas, List<Finding> findings) {
    this.watched = watched;
    this.lemmas = List.copyOf(lemmas);
    this.findings = List.copyOf(findings);
  }

  /**
   * Proves the properties of a network, or finds stories in which they are broken.
   *
   * @param memory what an earlier proof has left; it remembers this one then
   */
  public static Proof of(Watched watched, ProofMemory memory, Progress progress) {
    return new Prover(watched, memory, progress).proof();
  }

  /** What is found of each property, in their order. */
  public List<Finding> findings() {
    return findings;
  }

  /** What was taken to be so because nothing in the network can tell. */
  public List<String> assumptions() {
    return watched.assumptions();
  }

  /** How many lemmas hold the proof up. */
  public int lemmas() {
    return lemmas.size();
  }

  /**
   * Writes every question down for other programs: of each property, by its number, the whole model
   * (AIGER, .aig), and the clauses that can be satisfied only if it is not proven (DIMACS, .cnf).
   *
   * @param folder is made where it is not there
   * @throws IOException if it cannot be written
   */
  public void export(Path folder) throws IOException {
    Files.createDirectories(folder);
    StringBuilder index = new StringBuilder();
    for (int number = 1; number <= findings.size(); number++) {
      Finding finding = findings.get(number - 1);
      String name = "property-%03d".formatted(number);
      index.append(
          "%s: %s: %s%n".formatted(name, finding.verdict().word(), finding.property().words()));
      writeModel(finding.property(), folder.resolve(name + ".aig"));
      writeQuestion(finding, folder.resolve(name + ".cnf"));
    }
    Files.writeString(folder.resolve("properties.txt"), index);
  }

  private void writeModel(Property property, Path file) throws IOException {
    try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(file))) {
      new Aiger(watched.network(), List.of(property.holds())).writeBinary(out);
    }
  }

  private void writeQuestion(Finding finding, Path file) throws IOException {
    int ticks = finding.verdict() instanceof Verdict.Proven proven ? proven.ticks() : 0;
    Dimacs clauses = new Dimacs();
    Unrolling unrolling = new Unrolling(watched.network(), clauses, Unrolling.From.ANYWHERE);
    InductionStep.demand(
        finding.property().holds(), false, ticks, new LemmaIndex(lemmas), unrolling, clauses);
    clauses.explainAll(watched.network(), unrolling, ticks + 1);
    try (Writer out = Files.newBufferedWriter(file)) {
      clauses.write(out);
    }
  }
}
