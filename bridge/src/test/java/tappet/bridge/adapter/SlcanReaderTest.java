package tappet.bridge.adapter;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvFileSource;
import tappet.lcc.CanFrame;

/** What an SLCAN adapter says; sources are in the table. */
class SlcanReaderTest {

  @ParameterizedTest(name = "{0}")
  @CsvFileSource(resources = "/slcan.csv", useHeadersInDisplayName = false, numLinesToSkip = 1)
  void bytesMeanTheSameHoweverCut(String name, String bytes, String told, String source) {
    byte[] said = bytes(bytes);
    List<String> expected = told == null ? List.of() : List.of(told.split("\\|"));
    for (int cut = 0; cut <= said.length; cut++) {
      Told heard = new Told();
      SlcanReader reader = new SlcanReader(heard);
      reader.feed(said, 0, cut);
      reader.feed(said, cut, said.length - cut);
      assertEquals(expected, heard.lines, name + ", cut at " + cut + ": " + source);
    }
  }

  @Test
  void framesWrittenAreRead() {
    Random random = new Random(11);
    for (int turn = 0; turn < 1_000; turn++) {
      int length = random.nextInt(9);
      long data = length == 0 ? 0 : random.nextLong() >>> (64 - 8 * length);
      CanFrame frame = CanFrame.of(random.nextInt(CanFrame.HEADER_MAX + 1), length, data);
      byte[] text = new byte[SerialCodec.BYTES_MAX];
      Told heard = new Told();
      new SlcanReader(heard).feed(text, 0, SlcanText.write(frame, text, 0));
      assertEquals(List.of(line(frame)), heard.lines);
    }
  }

  @Test
  void noiseNeverBreaksTheReaderAndTheNextFrameIsRead() {
    Random random = new Random(12);
    Told heard = new Told();
    SlcanReader reader = new SlcanReader(heard);
    byte[] noise = new byte[100_000];
    random.nextBytes(noise);

    reader.feed(noise, 0, noise.length);
    heard.lines.clear();
    byte[] frame = bytes("T171A24AA0\\r");
    reader.feed(frame, 0, frame.length);

    assertEquals("frame 171A24AA", heard.lines.get(heard.lines.size() - 1), "seed 12");
  }

  private static byte[] bytes(String escaped) {
    String text = escaped.replace("\\r", "\r").replace("\\n", "\n").replace("\\b", "\007");
    return text.getBytes(StandardCharsets.ISO_8859_1);
  }

  private static String line(CanFrame frame) {
    String data = HexFormat.of().withUpperCase().toHexDigits(frame.dataValue(), 2 * frame.length());
    return "frame %08X %s".formatted(frame.header(), data).strip();
  }

  private static final class Told implements SlcanReader.Listener {
    private final List<String> lines = new ArrayList<>();

    @Override
    public void frame(CanFrame frame) {
      lines.add(line(frame));
    }

    @Override
    public void frameOfOtherKind() {
      lines.add("other");
    }

    @Override
    public void bell() {
      lines.add("bell");
    }

    @Override
    public void status(int flags) {
      lines.add("status " + flags);
    }

    @Override
    public void garbage(int bytes) {
      lines.add("garbage " + bytes);
    }
  }
}
