package tappet.bridge.measure;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

/** The measure itself, in small, so that it never rots. Its figures mean nothing here. */
class RelayMeasureTest {

  private static final int PACED = 50;

  @Test
  void measureInSmallHearsEveryFrameAndTellsItsFigures() throws Exception {
    RelayMeasure.Result result = new RelayMeasure(1, 5_000, PACED).run();
    ByteArrayOutputStream told = new ByteArrayOutputStream();
    RelayMeasure.tell(result, new PrintStream(told, true, StandardCharsets.UTF_8));

    assertEquals(PACED * RelayMeasure.CLIENTS, result.hubNs().getTotalCount());
    assertEquals(PACED * RelayMeasure.CLIENTS, result.bareNs().getTotalCount());
    assertTrue(result.hubFramesPerS() > RelayMeasure.BUS_FRAMES_PER_S);
    assertTrue(told.toString(StandardCharsets.UTF_8).contains("added by the hub"));
  }
}
