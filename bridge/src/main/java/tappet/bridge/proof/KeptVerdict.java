package tappet.bridge.proof;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import tappet.source.Fields;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;
import tappet.source.YamlText;

/**
 * What the last proof found of a layout and its rules, kept beside the rules (49 CFR 236.18: what
 * runs is what was judged).
 *
 * @param answer what was found
 * @param files what tells these two files from all others; see {@link RailroadFiles#digest}
 * @param network what tells the network made of them from all others; another version of Tappet may
 *     make another one of the same files
 * @param on when it was found
 * @param open the properties that are not proven, in plain words
 */
public record KeptVerdict(
    Answer answer, String files, String network, Instant on, List<String> open) {

  private static final String EXAMPLE = "proven";
  private static final String HEAD =
      """
      # What 'tappet prove' has found of the layout and the rules beside it. Not for editing: it
      # counts only while neither of them is changed.
      """;

  /** The three answers of a proof. */
  public enum Answer {
    PROVEN("proven", 0),
    DISPROVEN("disproven", 1),
    NOT_PROVEN("not proven", 3);

    private final String word;
    private final int exitStatus;

    Answer(String word, int exitStatus) {
      this.word = word;
      this.exitStatus = exitStatus;
    }

    /** It as it is written. */
    public String word() {
      return word;
    }

    /** The exit status of {@code tappet prove} that says so. */
    public int exitStatus() {
      return exitStatus;
    }

    /** The answer of an exit status; empty where the proof came to none. */
    public static Optional<Answer> of(int exitStatus) {
      return Stream.of(values()).filter(answer -> answer.exitStatus == exitStatus).findFirst();
    }

    private static Optional<Answer> of(String word) {
      return Stream.of(values()).filter(answer -> answer.word.equals(word)).findFirst();
    }
  }

  public KeptVerdict {
    open = List.copyOf(open);
  }

  /** The file in which the verdict on a rule file is kept. */
  public static Path beside(Path rules) {
    String name = rules.getFileName().toString().replaceFirst("\\.ya?ml$", "");
    return rules.resolveSibling(name + ".proof");
  }

  /** A verdict that was written; empty where there is none, or none that can be read. */
  public static Optional<KeptVerdict> read(Path file) {
    try {
      Problems problems = new Problems();
      return Value.ofFile("the verdict", file.toString(), Files.readString(file), problems)
          .read(KeptVerdict::verdict)
          .flatMap(read -> read)
          .filter(any -> problems.none());
    } catch (IOException e) {
      return Optional.empty();
    }
  }

  private static Optional<KeptVerdict> verdict(Fields fields) {
    Optional<Answer> answer = text(fields, "verdict").flatMap(Answer::of);
    Optional<String> files = text(fields, "files");
    Optional<String> network = text(fields, "network");
    Optional<Instant> on = fields.required("on", EXAMPLE).parsed(KeptVerdict::instant, "a time");
    List<String> open =
        fields.optional("open", "[]").items().stream()
            .flatMap(item -> item.text().stream())
            .map(YamlNode.Text::value)
            .toList();
    boolean whole =
        answer.isPresent() && files.isPresent() && network.isPresent() && on.isPresent();
    return whole
        ? Optional.of(new KeptVerdict(answer.get(), files.get(), network.get(), on.get(), open))
        : Optional.empty();
  }

  private static Optional<String> text(Fields fields, String key) {
    return fields.required(key, EXAMPLE).text().map(YamlNode.Text::value);
  }

  private static Optional<Instant> instant(String written) {
    try {
      return Optional.of(Instant.parse(written));
    } catch (DateTimeParseException e) {
      return Optional.empty();
    }
  }

  /**
   * Writes it, unless the file says the same already.
   *
   * @throws IOException if it cannot be written
   */
  public void write(Path file) throws IOException {
    if (read(file).filter(this::saysTheSame).isEmpty()) {
      Files.writeString(file, text(), StandardCharsets.UTF_8);
    }
  }

  private boolean saysTheSame(KeptVerdict other) {
    return answer == other.answer
        && files.equals(other.files)
        && network.equals(other.network)
        && open.equals(other.open);
  }

  private String text() {
    StringBuilder text = new StringBuilder(HEAD);
    text.append("verdict: ").append(answer.word()).append('\n');
    text.append("on: ").append(on).append('\n');
    text.append("files: ").append(files).append('\n');
    text.append("network: ").append(network).append('\n');
    if (!open.isEmpty()) {
      text.append("open:\n");
      open.forEach(words -> text.append("  - ").append(YamlText.quoted(words)).append('\n'));
    }
    return text.toString();
  }
}
