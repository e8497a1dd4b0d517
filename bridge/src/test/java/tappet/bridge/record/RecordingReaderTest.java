package tappet.bridge.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.source.Problem;
import tappet.source.Problems;

/** Files that are no recordings, or no longer. Common practice, no source. */
class RecordingReaderTest {

  private static final String EXPECTED =
      "; a recording has lines such as (1436509052.249713) can0 1B4A3F12#0102";

  private static final String WHOLE =
      """
      # (0000000010.000000) started version="0.1" layout="L" node="0A.57.00.00.00.01" seed="1" \
      protections="a"
      # a remark of somebody
      # (0000000010.000000) up connection="hub \\"1\\"" asked="yes"
      (0000000010.000100) can0 195B4573#0102030405060708 T

      # (0000000010.000200) from connection="hub"
      (0000000010.000200) can0 195B4573#0102030405060708 R
      (0000000010.000300) can0 123#00
      (0000000010.000300) can0 195B4573#R
      (0000000010.000300) can0 195B4573##100
      # (0000000010.000400) told number="1" by="the desk" sent
      #+ ence="line t2e to t4e"
      # (0000000010.000500) ended
      """;

  @Test
  void wholeRecordingIsReadWithoutWhatIsNotOfLcc() {
    Recording recording = read(WHOLE).orElseThrow();

    Session session = recording.sessions().get(0);
    assertEquals("L", session.start().orElseThrow().layout());
    assertEquals(
        List.of(1, 3, 4, 6, 7, 11, 13), session.entries().stream().map(Entry::line).toList());
    assertEquals(new Item.Up("hub \"1\"", true), session.entries().get(1).item());
    assertTrue(session.entries().get(2).item() instanceof Item.Sent);
    assertTrue(session.entries().get(4).item() instanceof Item.Heard);
    Item.Told told = (Item.Told) session.entries().get(5).item();
    assertEquals("line t2e to t4e", told.sentence());
    assertEquals(Optional.empty(), told.at());
    assertEquals(
        List.of("3 frames are none of LCC and are passed over, the first in line 8"),
        recording.remarks());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      value = {
        "layout: 1|1:1: this is no line of a recording",
        "(12.5) can0 195B4573#00|1:1: this is no line of a recording",
        "(0000000001.000000) can0 195B457#00|1:26: this is no line of a recording",
        "(0000000001.000000) can0 195B4573#0G|1:36: this is no line of a recording",
        "#+ more|1:1: this goes on where nothing has begun",
        "# (1.5) up|1:3: this is no time such as (1436509052.249713)",
        "# (0000000001.000000)|1:22: a note needs a word behind its time",
        "# (0000000001.000000) up connection=x|1:25: here a note goes on as in: connection=\"hub\"",
      })
  void wrongLineIsToldWithItsPlace(String line, String problem) {
    assertEquals("f:" + problem + EXPECTED, problems(line + "\n"));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      value = {
        "ups connection=\"a\"|1:23: there is no note 'ups'; did you mean 'up'?",
        "up connection=\"a\"|1:23: 'asked' is missing; the note may have been changed; a recording"
            + " is replayed as it was written",
        "up connection=\"a\" asked=\"perhaps\"|1:23: 'asked' is 'perhaps', expected yes or no; the"
            + " note may have been changed; a recording is replayed as it was written",
      })
  void noteThatMeansNothingIsToldWithItsPlace(String note, String problem) {
    assertEquals("f:" + problem, problems("# (0000000001.000000) " + note + "\n"));
  }

  @Test
  void timeThatRunsBackIsTold() {
    assertEquals(
        "f:2:2: the time runs back by 1.500 s; sort the lines by their times, or replay the parts"
            + " one by one",
        problems(
            """
            (0000000003.000000) can0 195B4573#00
            (0000000001.500000) can0 195B4573#00
            """));
  }

  @Test
  void emptyFileIsNoRecording() {
    assertEquals("f:1:1: there is no frame in this file" + EXPECTED, problems(""));
  }

  @Test
  void whatAPowerCutHasLeftInHalfIsLeftOut() {
    Item told = new Item.Told(2, "the desk", Optional.empty(), "halt '" + "xü".repeat(250) + "'");
    String last = String.join("\n", NoteText.write(Notes.of(10_000_450, told))) + "\n";
    String whole = WHOLE.replaceFirst("# \\(0000000010.000500\\)", last + "$0");
    assertEquals(8, read(whole).orElseThrow().sessions().get(0).entries().size());
    for (int cut = whole.indexOf("# (0000000010.000450)") + 1;
        cut < whole.indexOf("# (0000000010.000500)");
        cut++) {
      Recording recording = read(whole.substring(0, cut)).orElseThrow();
      assertEquals(6, recording.sessions().get(0).entries().size(), "cut at " + cut);
      assertTrue(recording.remarks().toString().contains("is cut off and left out"));

      String begunAnew = whole.substring(0, whole.lastIndexOf('\n', cut - 1) + 1) + WHOLE;
      Recording andOn = read(begunAnew).orElseThrow();
      assertEquals(6, andOn.sessions().get(0).entries().size(), "cut at " + cut);
      assertEquals(2, andOn.sessions().size(), "cut at " + cut);
    }
  }

  @Test
  void lineWithoutEndTakesNoMemory() throws IOException {
    InputStream endless =
        new InputStream() {
          @Override
          public int read() {
            return 'x';
          }
        };
    Problems problems = new Problems();
    assertEquals(Optional.empty(), RecordingReader.read("f", endless, problems));
    assertEquals("f:1:4097: this line is too long" + EXPECTED, problems.sorted().get(0).toString());
  }

  @Test
  void noteWithoutEndIsTooLong() {
    String line = "#+ " + "x".repeat(4_000) + "\n";
    String text = "# (0000000001.000000) told a=\"\n" + line.repeat(300);
    assertTrue(problems(text).startsWith("f:1:1: this note is too long"), problems(text));
  }

  /** Nothing may be thrown, whatever is in the file; seed 6. */
  @Test
  void damagedAndBinaryFilesAreReadOrRefused() {
    SplittableRandom random = new SplittableRandom(6);
    byte[] whole = WHOLE.getBytes(StandardCharsets.UTF_8);
    int refused = 0;
    for (int round = 0; round < 20_000; round++) {
      byte[] bytes = whole.clone();
      int damages = 1 + random.nextInt(4);
      for (int damage = 0; damage < damages; damage++) {
        bytes[random.nextInt(bytes.length)] = (byte) random.nextInt(256);
      }
      refused += read(bytes).isEmpty() ? 1 : 0;
    }
    assertTrue(refused > 5_000, refused + " refused");
    byte[] binary = new byte[100_000];
    random.nextBytes(binary);
    assertEquals(Optional.empty(), read(binary));
  }

  private static Optional<Recording> read(String text) {
    return read(text.getBytes(StandardCharsets.UTF_8));
  }

  private static Optional<Recording> read(byte[] bytes) {
    return read(bytes, new Problems());
  }

  private static Optional<Recording> read(byte[] bytes, Problems problems) {
    try {
      return RecordingReader.read("f", new ByteArrayInputStream(bytes), problems);
    } catch (IOException e) {
      throw new AssertionError(e);
    }
  }

  private static String problems(String text) {
    Problems problems = new Problems();
    assertEquals(Optional.empty(), read(text.getBytes(StandardCharsets.UTF_8), problems));
    return problems.sorted().stream().map(Problem::toString).collect(Collectors.joining("\n"));
  }
}
