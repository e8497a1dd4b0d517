package tappet.measure;

import java.io.PrintStream;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.results.RunResult;
import org.openjdk.jmh.runner.Runner;
import org.openjdk.jmh.runner.RunnerException;
import org.openjdk.jmh.runner.options.ChainedOptionsBuilder;
import org.openjdk.jmh.runner.options.OptionsBuilder;
import org.openjdk.jmh.runner.options.VerboseMode;
import tappet.interlocking.Interlocking;
import tappet.interlocking.Step;

/**
 * Prints what a step costs on the demo and on generated lines of 10, 100 and 1,000 control points,
 * what reading and compiling them costs, and a check value that must not depend on the machine.
 */
public final class StepMeasure {

  /** The most that a step on the largest line may cost, by a step on the demo. */
  private static final double RATIO_GOAL = 3;

  private static final int WARM_UP_SHOTS = 8;
  private static final int SHOTS = 10;

  private final PrintStream out;

  private StepMeasure(PrintStream out) {
    this.out = out;
  }

  /** Measures every size. */
  public static void whole(PrintStream out) {
    new StepMeasure(out).measure(List.of(Railroad.DEMO, "2", "20", "200"), false);
  }

  /** One shot each of two small sizes within this process: only to see that it works. */
  public static void tiny(PrintStream out) {
    new StepMeasure(out).measure(List.of(Railroad.DEMO, "2"), true);
  }

  private void measure(List<String> railroads, boolean tiny) {
    out.printf(
        "step: %,d inputs of trains running over lined routes, seed %d%n",
        StepBenchmark.STEPS, StepBenchmark.SEED);
    Railroad.named("2");
    Map<String, Double> costsNs = costsNs(railroads, tiny);
    double least = costsNs.get(railroads.get(0));
    railroads.forEach(name -> tell(name, costsNs.get(name), costsNs.get(name) / least));
    out.printf("  goal: at most %.0f times the demo's on the largest%n", RATIO_GOAL);
  }

  private void tell(String name, double costNs, double ratio) {
    long start = System.nanoTime();
    Railroad railroad = Railroad.named(name);
    long read = System.nanoTime();
    FieldTape tape =
        Operation.tape(
            railroad.layout(), railroad.table(), StepBenchmark.SEED, StepBenchmark.STEPS);
    long taped = System.nanoTime();
    Interlocking interlocking = new Interlocking(railroad.layout(), railroad.table());
    long compiled = System.nanoTime();
    out.printf(
        "  %s: %,.0f ns/step, ratio %.2f; %,d variables; read in %,d ms, compiled in %,d ms; %s%n",
        told(name),
        costNs,
        ratio,
        interlocking.network().variables().size(),
        TimeUnit.NANOSECONDS.toMillis(read - start),
        TimeUnit.NANOSECONDS.toMillis(compiled - taped),
        checked(tape, interlocking));
  }

  private static String told(String railroad) {
    return railroad.equals(Railroad.DEMO)
        ? railroad
        : "%,d control points"
            .formatted(Integer.parseInt(railroad) * GeneratedLine.CONTROL_POINTS_EACH);
  }

  /** What came of the operation, told as one number. */
  private static String checked(FieldTape tape, Interlocking interlocking) {
    interlocking.start(0);
    tape.opening().forEach(moment -> interlocking.step(moment.input(), moment.nowNs()));
    int check = 0;
    for (FieldTape.Moment moment : tape.operation()) {
      Step step = interlocking.step(moment.input(), moment.nowNs());
      check = 31 * check + List.of(step.outputs(), step.changes()).toString().hashCode();
    }
    return "%,d of the inputs are reports, check value %08x".formatted(tape.reports(), check);
  }

  private static Map<String, Double> costsNs(List<String> railroads, boolean tiny) {
    Map<String, Double> costs = new LinkedHashMap<>();
    try {
      for (RunResult result : new Runner(options(railroads, tiny).build()).run()) {
        costs.put(result.getParams().getParam("railroad"), result.getPrimaryResult().getScore());
      }
      return costs;
    } catch (RunnerException e) {
      throw new IllegalStateException(e);
    }
  }

  /** The daemon's compiler and collector, so that a step costs here what it costs there. */
  private static ChainedOptionsBuilder options(List<String> railroads, boolean tiny) {
    return new OptionsBuilder()
        .include(StepBenchmark.class.getName())
        .param("railroad", railroads.toArray(String[]::new))
        .verbosity(VerboseMode.SILENT)
        .forks(tiny ? 0 : 1)
        .warmupIterations(tiny ? 0 : WARM_UP_SHOTS)
        .measurementIterations(tiny ? 1 : SHOTS)
        .jvmArgs(
            "-XX:+UseSerialGC",
            "-XX:TieredStopAtLevel=1",
            "-Dtappet.home=" + System.getProperty("tappet.home", ".."));
  }
}
