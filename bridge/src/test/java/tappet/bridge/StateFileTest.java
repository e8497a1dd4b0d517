package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.node.KeptState;
import tappet.lcc.AliasSeed;
import tappet.lcc.NodeId;

/** What the daemon's node remembers while it is off, in a real file. */
class StateFileTest {

  private static final NodeId NODE = NodeId.of("0A.57.00.00.00.01");

  @TempDir Path folder;

  @Test
  void ofStatesThatComeFasterThanTheDiskTheLastOneIsKept() {
    Path path = folder.resolve("tappet.state");
    KeptState last = new KeptState("Tower", "", AliasSeed.of(NODE), 200_000);
    try (StateFile file = new StateFile(path)) {
      for (int given = 0; given < last.eventsGiven(); given++) {
        file.accept(new KeptState("Tower", "", AliasSeed.of(NODE), given));
      }
      file.accept(last);
    }
    try (StateFile file = new StateFile(path)) {
      assertEquals(last, file.read(NODE));
    }
  }
}
