package tappet.lcc;

import static java.nio.charset.StandardCharsets.ISO_8859_1;
import static java.nio.charset.StandardCharsets.US_ASCII;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The text form has no grammar in the documents; its shape is that of TN-9.7.4.4 §4. */
class FrameTextTest {

  private static final CanFrame REPORT = CanFrame.of(0x195B4458, 8, 0x02010D1234560004L);
  private static final String REPORT_TEXT = ":X195B4458N02010D1234560004;";

  private final FrameTextReader reader = new FrameTextReader();
  private final List<CanFrame> frames = new ArrayList<>();

  static Stream<String> publishedTexts() {
    return Stream.concat(
        Vectors.rows(Vectors.read("text-form-published-examples.json").get("rows"))
            .map(row -> row.asText()),
        Vectors.rows(Vectors.read("frames.json"))
            .filter(row -> row.has("text"))
            .map(row -> row.get("text").asText()));
  }

  // TN-9.7.4.4 §4, and the frames of S-9.7.2.1, S-9.7.3 and S-9.7.3.1 in that form
  @ParameterizedTest
  @MethodSource("publishedTexts")
  void publishedTextIsReadAndWrittenBackUnchanged(String text) {
    feed(text);
    assertEquals(1, frames.size());
    assertEquals(text, FrameText.encode(frames.get(0)));
  }

  // S-9.7.2.1 §4: 29 bits of header, up to eight data bytes
  @Test
  void publishedFrameFieldsAreRead() {
    var rows = Vectors.rows(Vectors.read("frames.json")).filter(row -> row.has("text")).toList();
    for (var row : rows) {
      CanFrame frame = Vectors.frame(row.get("text").asText());
      String id = row.get("id").asText();
      assertEquals(Vectors.hex(row, "header"), frame.header(), id);
      assertEquals(Vectors.hex(row, "source_alias"), frame.sourceAlias(), id);
      assertEquals(row.get("dlc").asInt(), frame.length(), id);
      String data = row.get("data").asText();
      assertEquals(data.isEmpty() ? 0 : Long.parseUnsignedLong(data, 16), frame.dataValue(), id);
    }
  }

  // common practice, no source: serial links cut the stream anywhere
  @Test
  void framesAreTheSameHoweverTheStreamIsCut() {
    String text = ":X17020458N;" + REPORT_TEXT + "\r\n:X19A284AAN03CC00;";
    List<CanFrame> whole = Vectors.frames(text);
    assertEquals(3, whole.size());
    byte[] bytes = text.getBytes(US_ASCII);
    for (int first = 0; first <= bytes.length; first++) {
      for (int second = first; second <= bytes.length; second++) {
        assertEquals(whole, readInThreePieces(bytes, first, second));
      }
    }
  }

  private static List<CanFrame> readInThreePieces(byte[] bytes, int first, int second) {
    List<CanFrame> read = new ArrayList<>();
    FrameTextReader reader = new FrameTextReader();
    reader.feed(bytes, 0, first, read::add);
    reader.feed(bytes, first, second - first, read::add);
    reader.feed(bytes, second, bytes.length - second, read::add);
    return read;
  }

  // common practice, no source
  @ParameterizedTest
  @CsvSource({
    ":x195b4458n02010d1234560004;, :X195B4458N02010D1234560004;",
    ":X0N;, :X00000000N;",
    ":X700458N;, :X00700458N;",
    ":X1FFFFFFFN0123456789ABCDEF;, :X1FFFFFFFN0123456789ABCDEF;",
  })
  void lenientFormsAreRead(String text, String meant) {
    feed(text);
    assertEquals(List.of(Vectors.frame(meant)), frames);
    assertEquals(0, reader.malformed());
  }

  // S-9.7.2.1 §4: 11-bit and remote frames of others must not disturb
  @ParameterizedTest
  @ValueSource(
      strings = {
        ":S123N00;",
        ":X195B4458R;",
        ":X195B4458N020;",
        ":X195B4458N02010D123456000455;",
        ":X20000000N;",
        ":XFFFFFFFFN;",
        ":X0195B4458N;",
        ":XN00;",
        ":X195B4458;",
        ":X195B4458N0G;",
        ":X195B 4458N;",
        ":195B4458N;",
        ":;",
        ":",
        ":X195B4458N02010D",
      })
  void brokenFrameCostsOnlyItselfAndIsCounted(String broken) {
    feed(REPORT_TEXT + broken + REPORT_TEXT);
    assertEquals(List.of(REPORT, REPORT), frames);
    assertEquals(2, reader.framesRead());
    assertEquals(1, reader.malformed());
    assertEquals(broken.length(), reader.skippedBytes());
  }

  // lcc.md's advice on TN-9.7.4.4 §4: skip anything between the end mark and the next start mark
  @Test
  void garbageBetweenFramesIsSkippedAndCountedButWhiteSpaceIsNot() {
    feed("junk" + REPORT_TEXT + "\r\n \u00ff;" + REPORT_TEXT + "\n");
    assertEquals(List.of(REPORT, REPORT), frames);
    assertEquals(6, reader.skippedBytes());
    assertEquals(0, reader.malformed());
  }

  @Test
  void unendingFrameIsGivenUp() {
    feed(":X195B4458N" + "0".repeat(100_000));
    assertEquals(1, reader.malformed());
    assertEquals(100_011, reader.skippedBytes());
  }

  @Test
  void anyFrameSurvivesTextAndEveryByteIsAccountedFor() {
    long seed = Seed.of(getClass());
    Random random = new Random(seed);
    List<CanFrame> sent = new ArrayList<>();
    long frameBytes = 0;
    long noiseBytes = 0;
    for (int count = 0; count < 2000; count++) {
      CanFrame frame = randomFrame(random);
      String noise = "~".repeat(random.nextInt(4));
      String text = FrameText.encode(frame);
      feed(noise + (random.nextBoolean() ? text : text.toLowerCase(Locale.ROOT)));
      sent.add(frame);
      frameBytes += text.length();
      noiseBytes += noise.length();
    }
    assertEquals(sent, frames, "seed " + seed);
    assertEquals(noiseBytes, reader.skippedBytes(), "seed " + seed);
    assertEquals(sent.stream().mapToLong(frame -> 12 + 2L * frame.length()).sum(), frameBytes);
  }

  @Test
  void randomBytesNeverThrow() {
    long seed = Seed.of(getClass());
    Random random = new Random(seed);
    byte[] alphabet = ":XxNnSR;0123456789abcdefABCDEF \n\0\u00ff".getBytes(ISO_8859_1);
    for (int count = 0; count < 200_000; count++) {
      reader.feed(alphabet[random.nextInt(alphabet.length)], frames::add);
    }
    assertEquals(frames.size(), reader.framesRead(), "seed " + seed);
  }

  @Test
  void framesAreWrittenOneBehindTheOther() {
    byte[] target = new byte[3 + 2 * FrameText.TEXT_LENGTH_MAX];
    int end = FrameText.write(CanFrame.empty(0x17020458), target, 3);
    end = FrameText.write(REPORT, target, end);
    assertEquals(":X17020458N;" + REPORT_TEXT, new String(target, 3, end - 3, US_ASCII));
    assertEquals(FrameText.TEXT_LENGTH_MAX, REPORT_TEXT.length());
  }

  @Test
  void tooShortTargetIsRefused() {
    assertThrows(IndexOutOfBoundsException.class, () -> FrameText.write(REPORT, new byte[27], 0));
  }

  private static CanFrame randomFrame(Random random) {
    int length = random.nextInt(CanFrame.LENGTH_MAX + 1);
    long value = length == 0 ? 0 : random.nextLong() >>> (64 - 8 * length);
    return CanFrame.of(random.nextInt(CanFrame.HEADER_MAX + 1), length, value);
  }

  private void feed(String text) {
    byte[] bytes = text.getBytes(ISO_8859_1);
    reader.feed(bytes, 0, bytes.length, frames::add);
  }
}
