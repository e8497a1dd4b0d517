package tappet.bridge.adapter;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.lcc.CanFrame;
import tappet.lcc.FrameText;
import tappet.lcc.FrameTextReader;

/** The fast way of reading against the patient one, which is the measure of what is right. */
class FrameIntakeTest {

  private static final List<String> ODD =
      List.of(
          ":",
          ";",
          "X",
          "N",
          "\n",
          "\r\n",
          ":X",
          ":X195B4573",
          ":X195B4573N",
          ":X195B4573N0;",
          ":X195B4573N0G;",
          ":X195B4573N010203040506070809;",
          ":X2195B457N;",
          ":XFFFFFFFFN;",
          ":S123N00;",
          ":X195B4573R;",
          ":X19N;",
          ":x195b4573n0a;",
          ":X195b4573N0a0b;",
          ":X195B457GN00;",
          "::X195B4573N01;",
          ":X195B4573N01:X195B4573N02;",
          "\u00FF",
          "0A",
          ":X195B4573N0102030405060708",
          ":X195B4573N01020304050607;");

  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
  void fastAndPatientReadingAreOneHoweverCut(long seed) {
    Random random = new Random(seed);
    byte[] bytes = text(random).getBytes(StandardCharsets.ISO_8859_1);
    List<CanFrame> expected = new ArrayList<>();
    FrameTextReader patient = new FrameTextReader();
    patient.feed(bytes, 0, bytes.length, expected::add);

    TrafficCount traffic = new TrafficCount();
    FrameIntake intake = new FrameIntake("seed " + seed, traffic);
    List<CanFrame> read = new ArrayList<>();
    for (int done = 0; done < bytes.length; ) {
      int length = Math.min(1 + random.nextInt(80), bytes.length - done);
      read.addAll(intake.feed(bytes, done, length));
      done += length;
    }

    assertEquals(expected, read, "seed " + seed);
    assertEquals(patient.malformed(), traffic.read().malformed(), "seed " + seed);
    assertEquals(patient.skippedBytes(), traffic.read().skippedBytes(), "seed " + seed);
    assertEquals(expected.size(), traffic.read().framesIn(), "seed " + seed);
  }

  @ParameterizedTest
  @ValueSource(longs = {21, 22})
  void fastAndPlainWritingAreOne(long seed) {
    Random random = new Random(seed);
    for (int turn = 0; turn < 10_000; turn++) {
      CanFrame frame = frame(random);
      byte[] text = new byte[FrameText.TEXT_LENGTH_MAX + 3];
      int end = PlainFrameWriter.write(frame, text, 3);
      assertEquals(
          FrameText.encode(frame),
          new String(text, 3, end - 3, StandardCharsets.US_ASCII),
          "seed " + seed);
    }
  }

  private static String text(Random random) {
    StringBuilder text = new StringBuilder();
    for (int piece = 0; piece < 5_000; piece++) {
      if (random.nextInt(3) == 0) {
        text.append(ODD.get(random.nextInt(ODD.size())));
      } else {
        text.append(FrameText.encode(frame(random)));
      }
    }
    return text.toString();
  }

  private static CanFrame frame(Random random) {
    int length = random.nextInt(9);
    long data = length == 0 ? 0 : random.nextLong() >>> (64 - 8 * length);
    return CanFrame.of(random.nextInt(CanFrame.HEADER_MAX + 1), length, data);
  }
}
