package tappet.bridge;

import java.net.InetSocketAddress;
import java.nio.file.Path;
import java.util.List;
import tappet.layout.Layout;
import tappet.lcc.NodeId;
import tappet.simulator.TrainSpec;
import tappet.source.NearNames;
import tappet.source.Place;
import tappet.source.Problems;

/**
 * The daemon's settings.
 *
 * @param layout the layout file
 * @param rules the rule file
 * @param node the daemon's own node id
 * @param hub where TCP clients may join the bus
 * @param desk where the command line asks
 * @param ways the ways to the layout, in the order of the file
 */
record Settings(
    Path layout,
    Path rules,
    NodeId node,
    InetSocketAddress hub,
    InetSocketAddress desk,
    List<Way> ways) {

  /** Notes simulated trains that stand on no section of the layout. */
  void checkTrains(Layout railroad, Problems problems) {
    for (Way way : ways) {
      if (way instanceof Simulator simulator) {
        simulator.trains().forEach(train -> checkTrain(train, railroad, problems));
      }
    }
  }

  private static void checkTrain(Train train, Layout railroad, Problems problems) {
    String section = train.spec().section();
    if (!railroad.sections().containsKey(section)) {
      problems.add(
          train.place(),
          "train '%s' stands on '%s', which is no section".formatted(train.spec().name(), section),
          NearNames.meant(section, railroad.sections().keySet(), "the layout has none"));
    }
  }

  /** One way to the layout. */
  sealed interface Way {}

  /**
   * A serial adapter.
   *
   * @param device its path
   * @param rate in bits a second
   */
  record Serial(String device, int rate) implements Way {}

  /** Another hub, as its TCP client. */
  record Tcp(String host, int port) implements Way {}

  /** The simulated railway. */
  record Simulator(List<Train> trains) implements Way {

    List<TrainSpec> specs() {
      return trains.stream().map(Train::spec).toList();
    }
  }

  /** A simulated train and where it stands in the file. */
  record Train(TrainSpec spec, Place place) {}
}
