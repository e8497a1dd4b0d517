package tappet.bridge;

import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.function.BiFunction;
import java.util.function.Predicate;
import tappet.bridge.adapter.TcpServer;
import tappet.bridge.box.SignalBox;
import tappet.bridge.box.Tempo;
import tappet.bridge.hub.Access;
import tappet.bridge.hub.HubUnderTest;
import tappet.layout.TrackPlan;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.Message;
import tappet.lcc.Messages;
import tappet.sentence.Happening;
import tappet.sentence.Sentences;
import tappet.source.Place;
import tappet.source.Problems;

/**
 * The Ambrose Valley Line in a hurry, in real time: the daemon in this process, and its boards
 * behind a hub of their own that it joins by TCP.
 */
final class LiveLine implements AutoCloseable {

  private static final InetSocketAddress ANY_PORT =
      new InetSocketAddress(InetAddress.getLoopbackAddress(), 0);

  private final OwnerFiles.Railroad files;
  private final Settings settings;
  private final HubUnderTest field = new HubUnderTest();
  private final TcpServer server;
  private final SimulatedLayout boards;
  private Daemon daemon;

  private LiveLine(Path folder, Path state, List<Settings.Way> otherWays) throws IOException {
    files = QuickLine.read(folder);
    server = TcpServer.open(field.hub(), ANY_PORT);
    boards =
        SimulatedLayout.open(
            field.hub(), new TrackPlan(files.layout()), List.of(QuickLine.EXTRA_41), Tempo.REAL);
    List<Settings.Way> ways = new ArrayList<>(otherWays);
    ways.add(new Settings.Tcp("127.0.0.1", server.address().getPort(), Access.FULL));
    settings = QuickLine.settings(folder, state, ways);
  }

  /**
   * Starts it.
   *
   * @param folder takes layout and rules
   * @param state what the daemon keeps, with its other files beside it
   * @param layoutBesides is added to the layout
   * @param otherWays ways of the daemon besides that to the boards
   */
  static LiveLine start(Path folder, Path state, String layoutBesides, List<Settings.Way> otherWays)
      throws IOException {
    QuickLine.write(folder);
    Path layout = folder.resolve("layout.yaml");
    Files.writeString(layout, Files.readString(layout) + layoutBesides);
    LiveLine line = new LiveLine(folder, state, otherWays);
    line.startDaemon();
    return line;
  }

  /** Starts the daemon again, after {@link #stopDaemon}. */
  void startDaemon() throws IOException {
    daemon = Daemon.start(settings, QuickLine.charted(files));
  }

  void stopDaemon() {
    daemon.close();
  }

  Daemon daemon() {
    return daemon;
  }

  /** Tells a sentence at the desk. */
  Console tell(String sentence) {
    return Console.run("tell", "--desk", desk(), sentence);
  }

  String why(String name) {
    return Console.run("why", "--desk", desk(), name).out();
  }

  private String desk() {
    return "127.0.0.1:" + daemon.deskAddress().getPort();
  }

  void awaitDone(String sentence) {
    await().atMost(JavaProcess.PATIENCE).alias(sentence).until(() -> tell(sentence).status() == 0);
  }

  /** Waits until the boards show more than Stop at this signal. */
  void awaitProceeds(String signal) {
    await()
        .atMost(JavaProcess.PATIENCE)
        .alias(signal + " proceeds")
        .until(() -> proceeding().contains(signal));
  }

  /** The signals whose boards show more than Stop. */
  List<String> proceeding() {
    return List.copyOf(boards.look().join().proceeding());
  }

  void awaitAlarms(String what, Predicate<List<String>> isSo) {
    await()
        .atMost(JavaProcess.PATIENCE)
        .alias(what)
        .until(() -> isSo.test(ask((box, nowNs) -> box.alarms())));
  }

  <T> T ask(BiFunction<SignalBox, Long, T> question) {
    return daemon.box().ask(question).join();
  }

  /** Lets something befall the railroad. */
  void happen(String sentence) {
    Happening happening =
        Sentences.happening(sentence, Place.inText("happening", 1), new Problems()).orElseThrow();
    if (boards.happen(happening).join().isPresent()) {
      throw new AssertionError(sentence);
    }
  }

  /** How many frames have gone over the bus of the boards: a mark for {@link #toldBehind}. */
  int mark() {
    field.settle();
    return field.frames().size();
  }

  /** Whether this aspect of a signal has gone over the bus of the boards behind a mark. */
  boolean toldBehind(int mark, String signal, String aspect) {
    EventId event = files.layout().signals().get(signal).shows().get(aspect);
    List<CanFrame> frames = field.frames();
    return frames.subList(mark, frames.size()).stream()
        .map(Messages::decode)
        .anyMatch(
            message ->
                message instanceof Message.EventReport report && report.event().equals(event));
  }

  @Override
  public void close() {
    daemon.close();
    server.close();
    field.close();
  }
}
