package tappet.bridge.measure;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;

/** Programs that take every processor of the machine, and are as important as any other. */
final class Burners implements AutoCloseable {

  private final List<Process> burning = new ArrayList<>();

  private Burners() {}

  /** One a processor. */
  static Burners light() throws IOException {
    Burners burners = new Burners();
    for (int count = 0; count < Runtime.getRuntime().availableProcessors(); count++) {
      burners.burning.add(new ProcessBuilder("sh", "-c", "while :; do :; done").start());
    }
    return burners;
  }

  int count() {
    return burning.size();
  }

  @Override
  public void close() {
    burning.forEach(Process::destroyForcibly);
  }
}
