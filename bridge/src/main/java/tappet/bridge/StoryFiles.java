package tappet.bridge;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import tappet.bridge.proof.Account;
import tappet.bridge.rehearsal.Failure;
import tappet.proof.Property;
import tappet.simulator.scenario.Scenario;
import tappet.source.Problems;

/**
 * Writes stories of a proof down as scenarios, and has the simulated railway play each through
 * frames, as it would any other.
 */
final class StoryFiles {

  private static final String NAMES = "story-[0-9]{3}\\.yaml";

  private final Path folder;
  private final OwnerFiles.Railroad railroad;

  /**
   * @param folder where they are written; it is made where it is not there
   */
  StoryFiles(Path folder, OwnerFiles.Railroad railroad) {
    this.folder = folder;
    this.railroad = railroad;
  }

  /**
   * Writes each that can be played, in the place of those that an earlier proof has left.
   *
   * @return each with what has come of it
   * @throws IOException if one cannot be written
   */
  Map<Property, Account> play(Map<Property, Account> accounts) throws IOException {
    removeOld();
    Map<Property, Account> played = new LinkedHashMap<>();
    for (Map.Entry<Property, Account> each : accounts.entrySet()) {
      Account account = each.getValue();
      String outcome =
          account.canBePlayed()
              ? play(account, "story-%03d.yaml".formatted(played.size() + 1))
              : "no scenario can tell it: something in it has no sentence";
      played.put(each.getKey(), account.played(outcome));
    }
    return played;
  }

  private void removeOld() throws IOException {
    if (Files.isDirectory(folder)) {
      try (Stream<Path> files = Files.list(folder)) {
        for (Path file : files.filter(StoryFiles::isStory).toList()) {
          Files.delete(file);
        }
      }
    }
  }

  private static boolean isStory(Path file) {
    return file.getFileName().toString().matches(NAMES);
  }

  private String play(Account account, String name) throws IOException {
    Path file = folder.resolve(name);
    Files.createDirectories(folder);
    Files.writeString(file, account.scenario());
    Problems problems = new Problems();
    List<Scenario> scenarios = new ScenarioFiles(problems).read(List.of(file), railroad);
    if (!problems.none() || scenarios.isEmpty()) {
      return "written to %s, which cannot be read: %s".formatted(file, problems.sorted());
    }
    return outcome(account, scenarios.get(0), file);
  }

  private String outcome(Account account, Scenario scenario, Path file) {
    Optional<Failure> failure = railroad.rehearse(scenario, railroad.coverage()).failure();
    if (failure.isEmpty()) {
      return "the simulator played %s, and with its times nothing was broken".formatted(file);
    }
    boolean asTold = failure.get().wrong().contains(account.property());
    return asTold
        ? "the simulator played %s, and broke it in line %d"
            .formatted(file, failure.get().place().line())
        : "the simulator played %s, and stopped in line %d: %s"
            .formatted(file, failure.get().place().line(), failure.get().wrong());
  }
}
