package tappet.bridge.record;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import tappet.source.NearNames;
import tappet.source.Place;
import tappet.source.Problems;

/**
 * Reads recordings: those of {@link SessionRecorder}, and any log of can-utils. What cannot be a
 * recording is noted as a problem at its place; what a power cut has left in half is left out, and
 * said to be.
 */
public final class RecordingReader {

  /** Whoever reads a file of another kind need not be told so of each of its lines. */
  static final int PROBLEMS_MAX = 10;

  /** Longer than the protections of a hundred crews. */
  private static final int NOTE_LETTERS_MAX = 1 << 20;

  private static final String EXPECTED =
      "a recording has lines such as (1436509052.249713) can0 1B4A3F12#0102";

  /** What stands in a log besides the frames of LCC: 11-bit, remote, error and longer frames. */
  private static final Pattern OTHER_FRAME =
      Pattern.compile(
          "(\\(\\d{1,12}\\.\\d{6}\\))( +\\S+)( +(?:[0-9A-Fa-f]{3}|[0-9A-Fa-f]{8})#(?:#|R)?"
              + "[0-9A-Fa-f.]*+(?: [RT])?)");

  private static final double US_PER_SECOND = 1e6;

  private final String file;
  private final Problems problems;
  private final List<Session> sessions = new ArrayList<>();
  private final List<String> remarks = new ArrayList<>();

  private Optional<Item.Started> start = Optional.empty();
  private List<Entry> entries = new ArrayList<>();
  private int firstLine = 1;
  private long latestUs;
  private int wrong;
  private long skipped;
  private int skippedFirst;

  // A note that may go on in further lines.
  private final List<String> note = new ArrayList<>();
  private int noteLetters;
  private int noteLine;

  private RecordingReader(String file, Problems problems) {
    this.file = file;
    this.problems = problems;
  }

  /** Reads a file; empty if there is any mistake in it. */
  public static Optional<Recording> read(Path path, Problems problems) {
    try (InputStream bytes = Files.newInputStream(path)) {
      return read(path.toString(), bytes, problems);
    } catch (NoSuchFileException e) {
      problems.add(
          new Place(path.toString(), 1, 1), "there is no such file", "look at its name and folder");
    } catch (IOException e) {
      problems.add(
          new Place(path.toString(), 1, 1),
          "the file cannot be read: " + e.getMessage(),
          "look at what it is, and at its permissions");
    }
    return Optional.empty();
  }

  static Optional<Recording> read(String file, InputStream bytes, Problems problems)
      throws IOException {
    RecordingReader reader = new RecordingReader(file, problems);
    try (BoundedLines lines = new BoundedLines(bytes)) {
      reader.read(lines);
    }
    return reader.wrong == 0
        ? Optional.of(new Recording(reader.sessions, reader.remarks))
        : Optional.empty();
  }

  private void read(BoundedLines lines) throws IOException {
    for (String line = lines.next(); line != null && wrong < PROBLEMS_MAX; line = lines.next()) {
      if (lines.tooLong()) {
        problem(lines.number(), BoundedLines.BYTES_MAX + 1, "this line is too long");
      } else if (!lines.whole()) {
        leaveOut(lines.number());
      } else {
        take(line, lines.number());
      }
    }
    endNote(true);
    endSession();
    if (wrong == 0 && sessions.isEmpty()) {
      problem(1, 1, "there is no frame in this file");
    }
    if (skipped > 0) {
      remarks.add(
          "%d frames are none of LCC and are passed over, the first in line %d"
              .formatted(skipped, skippedFirst));
    }
  }

  private void take(String line, int number) {
    if (line.startsWith(NoteText.GOES_ON)) {
      goOn(line, number);
      return;
    }
    boolean begins = line.startsWith(NoteText.BEGINS);
    endNote(begins && line.contains(") started "));
    if (begins) {
      beginNote(line, number);
    } else if (!line.startsWith("#") && !line.isBlank()) {
      takeFrame(line, number);
    }
  }

  private void takeFrame(String line, int number) {
    Optional<LoggedFrame> logged = FrameLogText.read(line);
    if (logged.isPresent()) {
      boolean sent = line.endsWith(FrameLogText.SENT);
      var frame = logged.get().frame();
      add(logged.get().timeUs(), sent ? new Item.Sent(frame) : new Item.Heard(frame), number);
    } else if (OTHER_FRAME.matcher(line).matches()) {
      skippedFirst = skipped == 0 ? number : skippedFirst;
      skipped++;
    } else {
      problem(number, column(line), "this is no line of a recording");
    }
  }

  /** Where a line stops looking like that of a frame. */
  private static int column(String line) {
    Matcher matcher = OTHER_FRAME.matcher(line);
    boolean begins = matcher.lookingAt();
    if (begins) {
      return matcher.end() + 1;
    }
    int close = line.indexOf(')');
    boolean timed = close > 0 && FrameLogText.readTime(line.substring(0, close + 1)) >= 0;
    int frame = timed ? line.lastIndexOf(' ') : -1;
    return timed ? Math.max(frame, close) + 2 : 1;
  }

  private void add(long timeUs, Item item, int number) {
    if (timeUs < latestUs && !entries.isEmpty()) {
      problem(
          number,
          2,
          "the time runs back by %.3f s".formatted((latestUs - timeUs) / US_PER_SECOND),
          "sort the lines by their times, or replay the parts one by one");
    }
    latestUs = timeUs;
    entries.add(new Entry(timeUs, item, number));
  }

  private void beginNote(String line, int number) {
    note.add(line);
    noteLetters = line.length();
    noteLine = number;
  }

  private void goOn(String line, int number) {
    noteLetters += line.length();
    if (note.isEmpty()) {
      problem(number, 1, "this goes on where nothing has begun");
    } else if (noteLetters > NOTE_LETTERS_MAX) {
      problem(noteLine, 1, "this note is too long");
      note.clear();
    } else {
      note.add(line.substring(NoteText.GOES_ON.length()));
    }
  }

  /**
   * @param mayBeCut whether the daemon may have been killed while it wrote it
   */
  private void endNote(boolean mayBeCut) {
    if (note.isEmpty()) {
      return;
    }
    String text = String.join("", note);
    try {
      take(NoteText.read(text));
    } catch (NoteText.Malformed e) {
      if (mayBeCut && NoteText.goesOn(note.get(note.size() - 1))) {
        leaveOut(noteLine);
      } else {
        problemInNote(e.column(), e.getMessage());
      }
    }
    note.clear();
  }

  private void take(NoteText.Note said) {
    Item item;
    try {
      item = Notes.read(said);
    } catch (IllegalArgumentException e) {
      boolean known = Notes.WORDS.contains(said.word());
      problem(
          noteLine,
          note.get(0).indexOf(')') + 3,
          e.getMessage(),
          known
              ? "the note may have been changed; a recording is replayed as it was written"
              : NearNames.meant(said.word(), Notes.WORDS, ""));
      return;
    }
    if (item instanceof Item.Started begun) {
      endSession();
      start = Optional.of(begun);
      firstLine = noteLine;
    }
    add(said.timeUs(), item, noteLine);
  }

  private void endSession() {
    if (!entries.isEmpty()) {
      sessions.add(new Session(start, entries, firstLine));
      entries = new ArrayList<>();
    }
  }

  private void leaveOut(int number) {
    remarks.add("line %d is cut off and left out".formatted(number));
  }

  /** The place of a letter of a note that goes over several lines. */
  private void problemInNote(int column, String what) {
    int line = 0;
    int before = 0;
    while (line < note.size() - 1 && column > before + note.get(line).length()) {
      before += note.get(line).length();
      line++;
    }
    int margin = line == 0 ? 0 : NoteText.GOES_ON.length();
    problem(noteLine + line, column - before + margin, what);
  }

  private void problem(int line, int column, String what) {
    problem(line, column, what, EXPECTED);
  }

  private void problem(int line, int column, String what, String meant) {
    wrong++;
    problems.add(new Place(file, line, column), what, meant);
  }
}
