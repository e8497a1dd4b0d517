package tappet.bridge;

import java.io.IOException;
import java.nio.charset.MalformedInputException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Optional;
import tappet.bridge.proof.RailroadFiles;
import tappet.bridge.proof.RailroadFiles.Text;
import tappet.bridge.proof.Standing;
import tappet.bridge.rehearsal.Coverage;
import tappet.bridge.rehearsal.Rehearsal;
import tappet.bridge.rehearsal.Result;
import tappet.bridge.rehearsal.SafetyOnlooker;
import tappet.interlocking.Compiled;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.rules.ControlTable;
import tappet.rules.RuleReader;
import tappet.simulator.scenario.Scenario;
import tappet.source.Place;
import tappet.source.Problems;
import tappet.source.Value;

/** Reads the owner's files from the disk; whatever is wrong with them is noted as a problem. */
final class OwnerFiles {

  private final Problems problems;

  OwnerFiles(Problems problems) {
    this.problems = problems;
  }

  /**
   * A layout and the rules for it.
   *
   * @param files what was read
   * @param compiled what it has come to, without a mistake
   */
  record Railroad(RailroadFiles files, Compiled compiled) {

    Layout layout() {
      return compiled.layout();
    }

    ControlTable table() {
      return compiled.table();
    }

    /** How its rules stand: as the last proof has found, if it was about them. */
    Standing standing() {
      return Standing.of(files, compiled.network());
    }

    /** What of its rules is tried, to begin with nothing. */
    Coverage coverage() {
      return new Coverage(layout(), table());
    }

    /** Plays a scenario on it, with an eye on all that must always be safe. */
    Result rehearse(Scenario scenario, Coverage tried) {
      return Rehearsal.of(scenario, layout(), table(), new SafetyOnlooker(), tried);
    }
  }

  /**
   * Reads both files, and notes the mistakes of both in one run. What rules say of the track plan
   * can be judged only where the layout is right.
   */
  Optional<Railroad> railroad(Path layoutFile, Path ruleFile) {
    Optional<Text> plan = read(layoutFile);
    Optional<LayoutReader.Reading> reading =
        plan.map(read -> LayoutReader.reading(layoutFile.toString(), read.text(), problems));
    Optional<Layout> layout = reading.flatMap(LayoutReader.Reading::layout);
    Optional<Layout> outline = reading.flatMap(LayoutReader.Reading::outline);
    Optional<Text> rules = read(ruleFile);
    if (layout.isPresent()) {
      return rules.flatMap(
          read -> railroad(layout.get(), new RailroadFiles(plan.orElseThrow(), read)));
    }
    rules.ifPresent(read -> check(outline, read));
    return Optional.empty();
  }

  private Optional<Railroad> railroad(Layout layout, RailroadFiles files) {
    return RuleReader.read(files.rules().file().toString(), files.rules().text(), layout, problems)
        .flatMap(table -> Compiled.of(layout, table, problems))
        .map(compiled -> new Railroad(files, compiled));
  }

  private void check(Optional<Layout> outline, Text rules) {
    String file = rules.file().toString();
    if (outline.isPresent()) {
      RuleReader.check(file, rules.text(), outline.get(), problems);
    } else {
      var unused = Value.ofFile("the rule file", file, rules.text(), problems);
    }
  }

  /** Reads a layout alone. */
  Optional<Layout> layout(Path file) {
    return text(file).flatMap(text -> LayoutReader.read(file.toString(), text, problems));
  }

  /** Reads the daemon's settings. */
  Optional<Settings> settings(Path file) {
    return text(file).flatMap(text -> SettingsReader.read(file, text, problems));
  }

  private Optional<Text> read(Path file) {
    return text(file).map(text -> new Text(file, text));
  }

  /** What is in a file. */
  Optional<String> text(Path file) {
    try {
      return Optional.of(Files.readString(file));
    } catch (NoSuchFileException e) {
      note(file, "there is no such file", "look at the name and the folder");
    } catch (MalformedInputException e) {
      note(file, "this is no text in UTF-8", "save the file as UTF-8 text");
    } catch (IOException e) {
      note(file, "the file cannot be read: " + e.getMessage(), "look at its permissions");
    }
    return Optional.empty();
  }

  private void note(Path file, String wrong, String meant) {
    problems.add(new Place(file.toString(), 1, 1), wrong, meant);
  }
}
