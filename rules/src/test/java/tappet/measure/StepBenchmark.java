package tappet.measure;

import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Level;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import tappet.interlocking.Interlocking;
import tappet.interlocking.Step;

/**
 * What a step of the interlocking costs, trains running. Each shot plays one operation from its
 * start to a fresh interlocking.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.SingleShotTime)
@OutputTimeUnit(TimeUnit.NANOSECONDS)
public class StepBenchmark {

  static final int STEPS = 20_000;
  static final long SEED = 1;

  /** The railroad's name, see {@link Railroad#named}. */
  @Param({Railroad.DEMO, "2", "20", "200"})
  public String railroad;

  private Railroad read;
  private FieldTape tape;
  private Interlocking interlocking;

  @Setup(Level.Trial)
  public void tape() {
    read = Railroad.named(railroad);
    tape = Operation.tape(read.layout(), read.table(), SEED, STEPS);
  }

  /**
   * What compiling has left behind is not for the steps to clear away. A small machine has no room
   * for two of the largest at once.
   */
  @Setup(Level.Invocation)
  public void open() {
    interlocking = null;
    interlocking = new Interlocking(read.layout(), read.table());
    interlocking.start(0);
    tape.opening().forEach(moment -> interlocking.step(moment.input(), moment.nowNs()));
    System.gc();
  }

  /** The check value counts what came of the steps. */
  @Benchmark
  @OperationsPerInvocation(STEPS)
  public int steps() {
    int check = 0;
    for (FieldTape.Moment moment : tape.operation()) {
      Step step = interlocking.step(moment.input(), moment.nowNs());
      check += 1_000 * step.outputs().size() + step.changes().size();
    }
    return check;
  }
}
