package tappet.bridge.reload;

import java.util.List;
import java.util.Locale;

/**
 * How a reload stands.
 *
 * @param phase where it is
 * @param report what has been found so far, a line each
 * @param against what stands against it now, a line each
 */
public record Progress(Phase phase, List<String> report, List<String> against) {

  /** No reload since the start. */
  static final Progress NONE = new Progress(Phase.NONE, List.of(), List.of());

  /** Where a reload is. */
  public enum Phase {
    NONE("no files have been read since the start"),
    READING("the files are read"),
    PROVING("the rules are being proven"),
    COMPARING("they are compared with what runs"),
    WAITING("something that has changed is in use; it is tried again and again"),
    POSSIBLE("the new files can take over"),
    DONE("the new files have taken over"),
    IN_USE("something that has changed is in use; the old files run on"),
    REFUSED("refused; the old files run on"),
    CANCELLED("called off; the old files run on");

    private final String words;

    Phase(String words) {
      this.words = words;
    }

    /** It as it is written. */
    public String word() {
      return name().toLowerCase(Locale.ROOT).replace('_', ' ');
    }

    /** It as a sentence. */
    public String words() {
      return words;
    }

    /**
     * The phase of a word.
     *
     * @throws IllegalArgumentException if there is none
     */
    public static Phase of(String word) {
      return valueOf(word.toUpperCase(Locale.ROOT).replace(' ', '_'));
    }

    /** Whether it goes on by itself. */
    public boolean isBusy() {
      return this == READING || this == PROVING || this == COMPARING || this == WAITING;
    }
  }

  public Progress {
    report = List.copyOf(report);
    against = List.copyOf(against);
  }

  /** Its phase in the first line, and below it all that is to be told. */
  public String text() {
    StringBuilder text = new StringBuilder(phase.word()).append('\n');
    report.forEach(line -> text.append(line).append('\n'));
    against.forEach(line -> text.append("stands against it: ").append(line).append('\n'));
    return text.toString();
  }
}
