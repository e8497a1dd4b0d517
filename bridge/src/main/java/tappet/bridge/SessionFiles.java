package tappet.bridge;

import java.nio.file.Path;
import java.util.Optional;
import tappet.bridge.session.SessionPlan;
import tappet.simulator.session.TrainList;
import tappet.simulator.session.TrainListReader;
import tappet.source.Problems;

/** Reads the files of a session; whatever is wrong with them is noted as a problem. */
final class SessionFiles {

  private final OwnerFiles files;
  private final Problems problems;

  SessionFiles(Problems problems) {
    this.problems = problems;
    this.files = new OwnerFiles(problems);
  }

  /** A session on a railroad. */
  Optional<SessionPlan> plan(OwnerFiles.Railroad railroad, Path trains) {
    return list(railroad, trains)
        .flatMap(list -> SessionPlan.of(list, railroad.layout(), railroad.table(), problems));
  }

  private Optional<TrainList> list(OwnerFiles.Railroad railroad, Path trains) {
    return files
        .text(trains)
        .flatMap(
            text -> TrainListReader.read(trains.toString(), text, railroad.layout(), problems));
  }
}
