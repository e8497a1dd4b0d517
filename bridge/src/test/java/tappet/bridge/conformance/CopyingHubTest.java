package tappet.bridge.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.net.Socket;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The hub copies frames between those who have joined it. */
class CopyingHubTest {

  /** The aliases of those who speak here. */
  private static final String NEAR = "AAA";

  private static final String FAR = "BBB";

  @TempDir Path folder;

  @Test
  @Checks({101})
  void everyFrameAppearsUnchangedAndInOrderOnAllOtherPortsAndNeverOnItsOwn() throws IOException {
    // TCP-TN (draft) §3.3; control frames, reserved ones and bit 28 among them (TN-9.7.0.2 §2.1)
    String[] frames = everyKindOfFrame();
    try (Dut dut = Dut.alone(folder);
        Tester near = join(dut);
        Tester far = join(dut)) {
      near.send(frames);
      List<String> arrived = new ArrayList<>();
      while (arrived.size() < frames.length) {
        Heard heard = far.hear(frame -> frame.source().equals(NEAR));
        arrived.add(heard.header() + heard.data());
      }
      assertEquals(List.of(frames), arrived);
      far.send("19170" + FAR + "0A5700000F0B");
      Heard first = near.hear(frame -> frame.source().matches(NEAR + "|" + FAR));
      assertEquals(FAR, first.source());
    }
  }

  private static Tester join(Dut dut) throws IOException {
    return new Tester(new Socket(dut.hub().getAddress(), dut.hub().getPort()));
  }

  private static String[] everyKindOfFrame() {
    List<String> frames = new ArrayList<>();
    for (int length = 0; length <= 8; length++) {
      for (int kind = 0; kind <= 0x1F; kind++) {
        frames.add("%02X123".formatted(kind) + NEAR + "0123456789ABCDEF".substring(0, 2 * length));
      }
    }
    return frames.toArray(String[]::new);
  }
}
