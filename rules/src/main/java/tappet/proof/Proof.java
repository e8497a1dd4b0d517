package tappet.proof;

import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.util.List;
import tappet.network.Variable;
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
  private final Prover prover;
  private final List<Finding> findings;

  private Proof(Watched watched, Prover prover) {
    this.watched = watched;
    this.prover = prover;
    this.findings = prover.findings();
  }

  /**
   * Proves the properties of a network, or finds stories in which they are broken.
   *
   * @param memory what an earlier proof has left; it remembers this one then
   */
  public static Proof of(Watched watched, ProofMemory memory, Progress progress) {
    return new Proof(watched, new Prover(watched, memory, progress));
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
    return prover.lemmas().size();
  }

  /** Whether a variable of the watched network can ever be true. */
  public Reach reach(Variable variable) {
    return prover.reach(variable);
  }

  /**
   * What tells whether another network gives the same orders as this one. It learns lemmas of its
   * own: those of a proof that remembers another are only as many as the properties need.
   */
  public Equivalence equivalence() {
    return Equivalence.with(watched);
  }

  /** Where a question is written to. */
  @FunctionalInterface
  public interface Shelf {
    /**
     * Opens a file for writing.
     *
     * @throws IOException if it cannot be made
     */
    OutputStream open(String name) throws IOException;
  }

  /**
   * Writes everything down for other programs: of each property, by its number, the whole model
   * (AIGER, .aig), and its last question; and in properties.txt what each number is about.
   *
   * @throws IOException if one cannot be written
   */
  public void export(Shelf shelf) throws IOException {
    StringBuilder index = new StringBuilder();
    for (int number = 1; number <= findings.size(); number++) {
      Finding finding = findings.get(number - 1);
      String words = finding.property().words();
      index.append(name(number) + ": " + finding.verdict().word() + ": " + words + "\n");
      writeModel(finding.property(), name(number) + ".aig", shelf);
    }
    exportQuestions(shelf);
    try (Writer out = text("properties.txt", shelf)) {
      out.append(index);
    }
  }

  /**
   * Writes the last question about each property down, by its number: clauses that can be satisfied
   * only if it is not proven (DIMACS, .cnf).
   *
   * @throws IOException if one cannot be written
   */
  public void exportQuestions(Shelf shelf) throws IOException {
    for (int number = 1; number <= findings.size(); number++) {
      writeQuestion(findings.get(number - 1), name(number) + ".cnf", shelf);
    }
  }

  private static String name(int number) {
    return "property-%03d".formatted(number);
  }

  private void writeModel(Property property, String name, Shelf shelf) throws IOException {
    try (OutputStream out = shelf.open(name)) {
      new Aiger(watched.network(), List.of(property.holds())).writeBinary(out);
    }
  }

  private void writeQuestion(Finding finding, String name, Shelf shelf) throws IOException {
    int ticks = finding.verdict() instanceof Verdict.Proven proven ? proven.ticks() : 0;
    LemmaIndex lemmas = new LemmaIndex(prover.lemmas());
    Dimacs clauses = new Dimacs();
    Unrolling unrolling = new Unrolling(watched.network(), clauses, Unrolling.From.ANYWHERE);
    InductionStep.demand(finding.property().holds(), false, ticks, lemmas, unrolling, clauses);
    clauses.explainAll(watched.network(), unrolling, ticks + 1);
    try (Writer out = text(name, shelf)) {
      clauses.write(out);
    }
  }

  private static Writer text(String name, Shelf shelf) throws IOException {
    return new OutputStreamWriter(shelf.open(name), StandardCharsets.UTF_8);
  }
}
