package tappet.bridge;

import io.netty.channel.MultiThreadIoEventLoopGroup;
import io.netty.channel.nio.NioIoHandler;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.bridge.adapter.BackOff;
import tappet.bridge.adapter.SerialAdapter;
import tappet.bridge.adapter.TcpServer;
import tappet.bridge.box.Tempo;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.Hub;
import tappet.bridge.hub.HubListener;
import tappet.layout.Layout;
import tappet.layout.TrackPlan;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.Message;
import tappet.lcc.Messages;
import tappet.sentence.Command;
import tappet.sentence.Sentences;
import tappet.source.Place;
import tappet.source.Problems;

/**
 * The railroad as a program of its own: the quick line's boards and its train, behind a serial
 * cable ({@code FOLDER serial PATH}) or a hub for TCP clients ({@code FOLDER hub PORT}). Sentences
 * about trains are read from the standard input; it writes what signals are told and when its
 * boards are asked.
 */
final class SimulatedField implements HubListener {

  private final Map<EventId, String> aspects = new LinkedHashMap<>();

  private SimulatedField(Layout layout) {
    layout
        .signals()
        .forEach(
            (id, signal) ->
                signal.shows().forEach((aspect, event) -> aspects.put(event, id + " " + aspect)));
  }

  public static void main(String[] arguments) throws IOException {
    Layout layout = QuickLine.read(Path.of(arguments[0])).layout();
    var group = new MultiThreadIoEventLoopGroup(1, NioIoHandler.newFactory());
    Hub hub = new Hub(group.next(), new SimulatedField(layout));
    var railroad =
        SimulatedLayout.open(hub, new TrackPlan(layout), List.of(QuickLine.EXTRA_41), Tempo.REAL);
    open(hub, arguments[1], arguments[2]);
    obey(railroad);
    System.exit(0);
  }

  private static void open(Hub hub, String way, String where) throws IOException {
    if (way.equals("serial")) {
      SerialAdapter.open(
          hub, where, 115_200, new BackOff(Duration.ofMillis(100), Duration.ofMillis(500)));
    } else {
      var address =
          new InetSocketAddress(InetAddress.getLoopbackAddress(), Integer.parseInt(where));
      System.out.println("hub at port " + TcpServer.open(hub, address).address().getPort());
    }
  }

  /** Until the test that started it is gone. */
  private static void obey(SimulatedLayout railroad) throws IOException {
    var input = new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8));
    for (String line = input.readLine(); line != null; line = input.readLine()) {
      Command command =
          Sentences.command(line, Place.inText("sentence", 1), new Problems()).orElseThrow();
      Optional<String> whyNot = railroad.tell(command).join();
      System.out.println(whyNot.orElse("done: " + line));
    }
  }

  @Override
  public void frameArrived(Connection from, CanFrame frame) {
    if (!from.name().equals("the simulator")) {
      hear(Messages.decode(frame));
    }
  }

  private void hear(Message message) {
    if (message instanceof Message.EventReport report && aspects.containsKey(report.event())) {
      System.out.println("told " + aspects.get(report.event()));
    } else if (message instanceof Message.IdentifyProducer enquiry) {
      System.out.println("asked " + enquiry.event());
    }
  }

  @Override
  public void connectionUp(Connection connection) {
    System.out.println(connection.name() + " is up");
  }

  @Override
  public void connectionDown(Connection connection, String why) {
    System.out.println(connection.name() + " " + why);
  }
}
