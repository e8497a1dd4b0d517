package tappet.bridge;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Random;
import tappet.lcc.CanFrame;
import tappet.lcc.FrameText;

/**
 * Pours nonsense and valid frames into a serial line, as fast as it takes them: frames cut off,
 * frames with a wrong digit, and events that nobody knows. The same seed gives the same bytes.
 */
final class Flood {

  private static final int PIECE_FRAMES = 100;

  /** An event report (S-9.7.3.1 §6.1) from an alias that nobody else has. */
  private static final int REPORT = 0x195B4ABC;

  private static final long NOBODYS_EVENTS = 0x0A57_00FF_0000_0000L;

  private final Random chance;

  Flood(long seed) {
    chance = new Random(seed);
  }

  /**
   * Pours so many bytes; ends earlier where the line is gone.
   *
   * @return how many the line took
   */
  long pour(Path device, long bytes) {
    long poured = 0;
    try (OutputStream line = Files.newOutputStream(device)) {
      while (poured < bytes) {
        byte[] piece = piece();
        line.write(piece);
        poured += piece.length;
      }
    } catch (IOException e) {
      return poured;
    }
    return poured;
  }

  private byte[] piece() {
    StringBuilder text = new StringBuilder();
    for (int count = 0; count < PIECE_FRAMES; count++) {
      String frame = frame();
      switch (chance.nextInt(10)) {
        case 0 -> text.append(frame, 0, chance.nextInt(frame.length()));
        case 1 -> text.append(frame.replace('B', 'Z'));
        case 2 -> text.append("\u0000\u00ff garbage \r\n");
        default -> text.append(frame);
      }
    }
    return text.toString().getBytes(StandardCharsets.ISO_8859_1);
  }

  private String frame() {
    return FrameText.encode(CanFrame.of(REPORT, 8, NOBODYS_EVENTS | chance.nextInt()));
  }
}
