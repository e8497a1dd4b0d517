package tappet.bridge.hub;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import tappet.lcc.CanFrame;

/** What the hub promises, whatever its connections are. Common practice unless a line says more. */
class HubTest {

  private final HubUnderTest test = new HubUnderTest();
  private final Hub hub = test.hub();

  @AfterEach
  void close() {
    test.close();
  }

  @Test
  void everyFrameReachesAllOthersOnceInOrderAndNeverItsOwnSender() {
    Port west = attached("west");
    Port yard = attached("yard");
    Port east = attached("east");

    hub.framesFrom(west, frames(1, 2, 3));
    hub.frameFrom(east, frame(4));
    test.settle();

    assertEquals(frames(4), west.sent);
    assertEquals(frames(1, 2, 3, 4), yard.sent);
    assertEquals(frames(1, 2, 3), east.sent);
    assertEquals(frames(1, 2, 3, 4), test.frames());
  }

  @Test
  void controlFramesPassUnaltered() {
    // TN-9.7.2.1 §3: a hub that copies control frames too makes one segment of its connections.
    Port west = attached("west");
    Port east = attached("east");
    CanFrame checkId = CanFrame.empty(0x17020573);

    hub.frameFrom(west, checkId);
    test.settle();

    assertEquals(List.of(checkId), east.sent);
  }

  @Test
  void framesOfTheDaemonReachEveryConnectionAndAreNotToldBack() {
    Port west = attached("west");
    Port east = attached("east");

    hub.sendAll(frames(1, 2));
    hub.send(frame(3));
    test.settle();

    assertEquals(frames(1, 2, 3), west.sent);
    assertEquals(frames(1, 2, 3), east.sent);
    assertEquals(List.of(), test.frames());
  }

  @Test
  void answerGivenDuringAPassComesBehindThePassForEveryConnection() {
    Port west = attached("west");
    Port[] answering = new Port[1];
    answering[0] = attached("answering", frame -> hub.frameFrom(answering[0], frame(9)));
    Port east = attached("east");

    hub.framesFrom(west, frames(1, 2));
    test.settle();

    assertEquals(frames(9, 9), west.sent);
    assertEquals(frames(1, 2, 9, 9), east.sent);
    assertEquals(frames(1, 2, 9, 9), test.frames());
  }

  @Test
  void framesGivenTogetherAreFlushedOnce() {
    Port west = attached("west");
    Port east = attached("east");

    hub.framesFrom(west, frames(1, 2, 3));
    test.settle();

    assertEquals(1, east.flushes);
  }

  @Test
  void callerMayReuseItsListAtOnce() {
    attached("west");
    Port east = attached("east");
    List<CanFrame> reused = new ArrayList<>();

    for (int number = 0; number < 1000; number++) {
      reused.clear();
      reused.add(frame(number));
      hub.sendAll(reused);
    }
    test.settle();

    assertEquals(frames(IntStream.range(0, 1000).toArray()), east.sent);
  }

  @Test
  void failingConnectionIsDroppedWhileTheOthersHearEverything() {
    Port west = attached("west");
    Port failing =
        attached(
            "failing",
            frame -> {
              throw new IllegalStateException("broken");
            });
    Port east = attached("east");

    hub.framesFrom(west, frames(1, 2));
    test.settle();

    assertEquals(frames(1, 2), east.sent);
    assertEquals("was dropped: java.lang.IllegalStateException: broken", failing.whyBroken);
    assertEquals(
        "failing was dropped: java.lang.IllegalStateException: broken",
        test.news().get(test.news().size() - 1));
    assertEquals(1, hub.counters().faults());
  }

  @Test
  void failingListenerStopsNoFrame() {
    HubListener failing =
        new HubListener() {
          @Override
          public void frameArrived(Connection from, CanFrame frame) {
            throw new IllegalStateException("broken");
          }

          @Override
          public void connectionUp(Connection connection) {
            throw new IllegalStateException("broken");
          }

          @Override
          public void connectionDown(Connection connection, String why) {
            throw new IllegalStateException("broken");
          }
        };
    Hub unheard = new Hub(test.loop(), failing);
    Port west = new Port("west", frame -> {});
    Port east = new Port("east", frame -> {});
    unheard.attach(west);
    unheard.attach(east);

    unheard.framesFrom(west, frames(1, 2));
    unheard.detach(west, "has left");
    test.settle();

    assertEquals(frames(1, 2), east.sent);
    assertEquals(List.of(east), unheard.connections());
    assertEquals(5, unheard.counters().faults());
  }

  @Test
  void goingDownIsToldOnce() {
    Port west = attached("west");

    hub.detach(west, "has left");
    hub.detach(west, "was closed");
    test.settle();

    assertEquals(List.of("west is up", "west has left"), test.news());
  }

  @Test
  void attachingTwiceIsAttachingOnce() {
    Port west = attached("west");
    Port east = attached("east");
    hub.attach(east);

    hub.frameFrom(west, frame(1));
    test.settle();

    assertEquals(frames(1), east.sent);
    assertEquals(List.of("west is up", "east is up"), test.news());
  }

  @Test
  void framesOfAConnectionThatIsDownAreCountedAndDropped() {
    Port west = attached("west");
    Port east = attached("east");
    hub.detach(west, "has left");

    hub.framesFrom(west, frames(1, 2));
    test.settle();

    assertEquals(List.of(), east.sent);
    assertEquals(List.of(), test.frames());
    assertEquals(2, hub.counters().strays());
  }

  @Test
  void connectionThatMayOnlyListenHearsEverythingAndIsHeardByNobody() {
    Port west = attached("west");
    Port visitor = new Port("visitor", Access.VISITOR, frame -> {});
    hub.attach(visitor);

    hub.framesFrom(visitor, frames(1, 2));
    hub.framesFrom(west, frames(3));
    hub.send(frame(4));
    test.settle();

    assertEquals(frames(3, 4), visitor.sent);
    assertEquals(frames(4), west.sent);
    assertEquals(frames(3), test.frames());
    assertEquals(2, hub.counters().refused());
  }

  @Test
  void overheardConnectionIsHeardByEverybodyAndToldNothing() {
    Port west = attached("west");
    Port bus = new Port("bus", Access.OVERHEARD, frame -> {});
    hub.attach(bus);

    hub.framesFrom(bus, frames(1, 2));
    hub.framesFrom(west, frames(3));
    hub.send(frame(4));
    test.settle();

    assertEquals(List.of(), bus.sent);
    assertEquals(frames(1, 2, 4), west.sent);
    assertEquals(frames(1, 2, 3), test.frames());
    assertEquals(new HubCounters(3, 1, 3, 0, 0, 0, 0, 2, 0), hub.counters());
  }

  /** What another connection said a moment before looks like a ring, and is searched for. */
  @Test
  void noSearchForARingGoesDownAnOverheardConnection() {
    Port west = attached("west");
    Port bus = new Port("bus", Access.OVERHEARD, frame -> {});
    hub.attach(bus);
    List<CanFrame> twice =
        IntStream.range(0, RingGuard.COPIES_SUSPECT).mapToObj(HubTest::frame).toList();

    hub.framesFrom(west, twice);
    hub.framesFrom(bus, twice);
    test.settle();

    assertTrue(west.sent.stream().anyMatch(RingProbe::isProbe), west.sent::toString);
    assertEquals(List.of(), bus.sent);
  }

  @Test
  void troubleOfALineIsTold() {
    hub.trouble(attached("west"), "tells of bus errors");
    test.settle();

    assertEquals(List.of("west is up", "west tells of bus errors"), test.news());
  }

  @Test
  void connectionThatCannotBeMadeIsTold() {
    hub.missing(new Port("west", frame -> {}), "does not answer: no such device");
    test.settle();

    assertEquals(List.of("west does not answer: no such device"), test.news());
  }

  @Test
  void countersTellHeardToldAndForwarded() {
    Port west = attached("west");
    attached("yard");
    attached("east");

    hub.framesFrom(west, frames(1, 2));
    hub.send(frame(3));
    test.settle();

    assertEquals(new HubCounters(2, 1, 2 * 2 + 3, 0, 0, 0, 0, 3, 0), hub.counters());
  }

  private Port attached(String name) {
    return attached(name, frame -> {});
  }

  private Port attached(String name, Consumer<CanFrame> onSend) {
    Port port = new Port(name, onSend);
    hub.attach(port);
    return port;
  }

  private static CanFrame frame(int number) {
    return CanFrame.of(0x195B4573, 4, number);
  }

  private static List<CanFrame> frames(int... numbers) {
    return IntStream.of(numbers).mapToObj(HubTest::frame).toList();
  }

  /** Remembers what the hub sends; touched on the loop, read by the test after it settled. */
  private static final class Port implements Connection {
    private final String name;
    private final Access access;
    private final Consumer<CanFrame> onSend;
    private final List<CanFrame> sent = new ArrayList<>();
    private int flushes;
    private String whyBroken = "";

    Port(String name, Consumer<CanFrame> onSend) {
      this(name, Access.FULL, onSend);
    }

    Port(String name, Access access, Consumer<CanFrame> onSend) {
      this.name = name;
      this.access = access;
      this.onSend = onSend;
    }

    @Override
    public String name() {
      return name;
    }

    @Override
    public Access access() {
      return access;
    }

    @Override
    public void send(CanFrame frame) {
      sent.add(frame);
      onSend.accept(frame);
    }

    @Override
    public void flush() {
      flushes++;
    }

    @Override
    public void breakOff(String why) {
      whyBroken = why;
    }

    @Override
    public void close() {}
  }
}
