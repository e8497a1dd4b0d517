package tappet.bridge.adapter;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import tappet.bridge.hub.HubUnderTest;
import tappet.bridge.hub.Traffic;
import tappet.lcc.CanFrame;

/** Common practice, no source. */
class LocalConnectionTest {

  private final HubUnderTest test = new HubUnderTest();
  private final List<CanFrame> heard = new CopyOnWriteArrayList<>();
  private final LocalConnection local = LocalConnection.attach(test.hub(), "simulator", heard::add);

  @AfterEach
  void close() {
    test.close();
  }

  @Test
  void framesAreMethodCallsBothWays() {
    local.tellAll(Frames.numbered(1, 0, 3));
    test.hub().sendAll(Frames.numbered(2, 0, 2));
    test.settle();

    assertEquals(Frames.numbered(1, 0, 3), test.frames());
    assertEquals(Frames.numbered(2, 0, 2), heard);
    assertEquals(new Traffic(3, 2, 0, 0, 0, 0), local.traffic());
  }

  @Test
  void answersKeepTheOrderInWhichTheyWereGiven() {
    LocalConnection[] answering = new LocalConnection[1];
    answering[0] =
        LocalConnection.attach(
            test.hub(), "answering", frame -> answering[0].tellAll(Frames.numbered(3, 0, 2)));

    local.tell(Frames.numbered(1, 0));
    test.settle();

    assertEquals(Frames.numbered(3, 0, 2), heard);
  }

  @Test
  void closedConnectionNeitherTellsNorHears() {
    local.close();
    local.tell(Frames.LAST);
    test.hub().send(Frames.LAST);
    test.settle();

    assertEquals(List.of(), test.frames());
    assertEquals(List.of(), heard);
    assertEquals(List.of("simulator is up", "simulator was closed"), test.news());
  }
}
