package tappet.measure;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import tappet.interlocking.Interlocking;
import tappet.proof.Finding;
import tappet.proof.Proof;
import tappet.proof.ProofMemory;
import tappet.proof.Verdict;
import tappet.proof.Watched;
import tappet.proof.track.SafetyProperties;

/**
 * Prints what a proof costs from cold and after no edit, for the demo and for generated lines of
 * some 20, 50, 100, 200 and 500 routes, beside the time that cadical takes for the last question of
 * each property.
 */
public final class ProofMeasure {

  private final PrintStream out;
  private final List<double[]> points = new ArrayList<>();

  private ProofMeasure(PrintStream out) {
    this.out = out;
  }

  /** Measures every size. */
  public static void whole(PrintStream out) throws IOException, InterruptedException {
    new ProofMeasure(out).measure(List.of(1, 2, 5, 10, 25));
  }

  /** The smallest size: only to see that it works. */
  public static void tiny(PrintStream out) throws IOException, InterruptedException {
    new ProofMeasure(out).measure(List.of(1));
  }

  private void measure(List<Integer> sizes) throws IOException, InterruptedException {
    out.println("proof: generated lines, each the first time");
    for (int groups : sizes) {
      tell(Railroad.named(Integer.toString(groups)));
    }
    if (points.size() > 1) {
      out.printf("  exponent of the time over routes: %.2f%n", exponent());
    }
    out.println(
        "  goals: 200 routes within 60 s; the demo from cold within 10 s, again within 2 s");
  }

  private void tell(Railroad railroad) throws IOException, InterruptedException {
    Watched watched =
        SafetyProperties.of(
            railroad.layout(), new Interlocking(railroad.layout(), railroad.table()).network());
    ProofMemory memory = ProofMemory.none();
    long start = System.nanoTime();
    Proof proof = Proof.of(watched, memory, (work, done, of) -> {});
    long proven = System.nanoTime();
    long usedMb = usedMb();
    long again = System.nanoTime();
    Proof second = Proof.of(watched, ProofMemory.of(memory.text()), (work, done, of) -> {});
    long provenAgain = System.nanoTime();
    int routes = railroad.table().routes().size();
    points.add(new double[] {Math.log(routes), Math.log((double) (proven - start))});
    out.printf(
        "  %,4d routes: %,d properties (%,d proven, %,d again) by %,d lemmas in %,d ms, again in"
            + " %,d ms, %,d MB; cadical %,d ms%n",
        routes,
        proof.findings().size(),
        proven(proof),
        proven(second),
        proof.lemmas(),
        TimeUnit.NANOSECONDS.toMillis(proven - start),
        TimeUnit.NANOSECONDS.toMillis(provenAgain - again),
        usedMb,
        cadicalMs(proof));
  }

  private static long proven(Proof proof) {
    return proof.findings().stream()
        .map(Finding::verdict)
        .filter(Verdict.Proven.class::isInstance)
        .count();
  }

  private static long usedMb() {
    Runtime runtime = Runtime.getRuntime();
    return (runtime.totalMemory() - runtime.freeMemory()) >> 20;
  }

  /** The least that a proof could cost: its last questions, each in a process of its own. */
  private static long cadicalMs(Proof proof) throws IOException, InterruptedException {
    Path folder = Files.createTempDirectory("questions");
    List<Path> questions = new ArrayList<>();
    proof.exportQuestions(
        name -> {
          questions.add(folder.resolve(name));
          return new BufferedOutputStream(Files.newOutputStream(folder.resolve(name)));
        });
    long start = System.nanoTime();
    for (Path question : questions) {
      var unused =
          new ProcessBuilder("cadical", "-q", "-n", question.toString())
              .redirectOutput(ProcessBuilder.Redirect.DISCARD)
              .start()
              .waitFor();
    }
    long took = System.nanoTime() - start;
    for (Path question : questions) {
      Files.delete(question);
    }
    Files.delete(folder);
    return TimeUnit.NANOSECONDS.toMillis(took);
  }

  /** The slope of the best line through the logarithms. */
  private double exponent() {
    double meanX = points.stream().mapToDouble(point -> point[0]).average().orElseThrow();
    double meanY = points.stream().mapToDouble(point -> point[1]).average().orElseThrow();
    double both = points.stream().mapToDouble(p -> (p[0] - meanX) * (p[1] - meanY)).sum();
    double square = points.stream().mapToDouble(p -> (p[0] - meanX) * (p[0] - meanX)).sum();
    return both / square;
  }
}
