package tappet.bridge;

import java.io.IOException;
import java.nio.charset.MalformedInputException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Optional;
import tappet.interlocking.CircularNeeds;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.rules.ControlTable;
import tappet.rules.RuleReader;
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
   * @param layout read without a mistake
   * @param table read without a mistake
   */
  record Railroad(Layout layout, ControlTable table) {}

  /**
   * Reads both files, and notes the mistakes of both in one run. What rules say of a layout can be
   * judged only where the layout is right; until then, only whether they are YAML at all.
   */
  Optional<Railroad> railroad(Path layoutFile, Path ruleFile) {
    Optional<Layout> layout =
        text(layoutFile).flatMap(text -> LayoutReader.read(layoutFile.toString(), text, problems));
    Optional<String> rules = text(ruleFile);
    if (layout.isEmpty()) {
      rules.ifPresent(text -> Value.ofFile("the rule file", ruleFile.toString(), text, problems));
    }
    if (layout.isEmpty() || rules.isEmpty()) {
      return Optional.empty();
    }
    return RuleReader.read(ruleFile.toString(), rules.get(), layout.get(), problems)
        .filter(table -> CircularNeeds.none(layout.get(), table, problems))
        .map(table -> new Railroad(layout.get(), table));
  }

  /** Reads the daemon's settings. */
  Optional<Settings> settings(Path file) {
    return text(file).flatMap(text -> SettingsReader.read(file, text, problems));
  }

  private Optional<String> text(Path file) {
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
