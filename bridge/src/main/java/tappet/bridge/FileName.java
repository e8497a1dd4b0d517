package tappet.bridge;

import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.Optional;
import tappet.source.Value;
import tappet.source.YamlNode;

/** The name of a file, as an owner writes it. */
final class FileName {

  private FileName() {}

  /**
   * The file that is named.
   *
   * @param folder what the name is seen from
   * @return empty where none is named, or none that this machine can have; that is noted
   */
  static Optional<Path> read(Value value, Path folder) {
    return value.text().flatMap(text -> read(text, value, folder));
  }

  /** Where the machine's language has plain letters only, so have the names of its files. */
  private static Optional<Path> read(YamlNode.Text text, Value value, Path folder) {
    try {
      return Optional.of(folder.resolve(text.value()));
    } catch (InvalidPathException e) {
      value.note(
          "this machine can have no file named %s".formatted(text.shown()),
          "write it with plain letters, or start Tappet with LC_ALL=C.UTF-8");
      return Optional.empty();
    }
  }
}
