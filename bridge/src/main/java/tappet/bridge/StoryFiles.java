package tappet.bridge;

import java.io.IOException;
import java.io.UncheckedIOException;
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
   * Writes each that can be played, in the place of those that an earlier proof has left. What
   * cannot be written is told: the proof counts all the same.
   *
   * @return each with what has come of it
   */
  Map<Property, Account> play(Map<Property, Account> accounts) {
    removeOld();
    Map<Property, Account> played = new LinkedHashMap<>();
    for (Map.Entry<Property, Account> each : accounts.entrySet()) {
      Account account = each.getValue();
      String outcome =
          account.canBePlayed()
              ? written(account, "story-%03d.yaml".formatted(played.size() + 1))
              : "no scenario can tell it: something in it has no sentence";
      played.put(each.getKey(), account.played(outcome));
    }
    return played;
  }

  private void removeOld() {
    if (!Files.isDirectory(folder)) {
      return;
    }
    try (Stream<Path> files = Files.list(folder)) {
      for (Path file : files.filter(StoryFiles::isStory).toList()) {
        Files.delete(file);
      }
    } catch (IOException | UncheckedIOException e) {
      System.err.printf("%s: stories of an earlier proof cannot be removed (%s)%n", folder, e);
    }
  }

  private static boolean isStory(Path file) {
    return file.getFileName().toString().matches(NAMES);
  }

  private String written(Account account, String name) {
    Path file = folder.resolve(name);
    try {
      Files.createDirectories(folder);
      Files.writeString(file, account.scenario());
      return play(account, file);
    } catch (IOException e) {
      return "no scenario of it can be written (%s); name another folder with --stories"
          .formatted(e);
    }
  }

  private String play(Account account, Path file) {
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
