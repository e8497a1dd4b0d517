package tappet.bridge;

import java.net.InetSocketAddress;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.bridge.adapter.SerialForm;
import tappet.bridge.box.Tempo;
import tappet.bridge.health.LogSetup;
import tappet.bridge.hub.Access;
import tappet.bridge.journal.Limits;
import tappet.bridge.mqtt.MqttPlan;
import tappet.bridge.node.ClockPlan;
import tappet.layout.Layout;
import tappet.layout.TrackPlan;
import tappet.lcc.NodeId;
import tappet.simulator.Railway;
import tappet.simulator.TrainSpec;
import tappet.simulator.scenario.TrainReader;
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
 * @param state where the daemon's node keeps what it remembers while it is off
 * @param journal where the daemon writes down what happens, and how much of it is kept
 * @param clock what clock the layout has
 * @param extras what a hub may do besides
 * @param people what people get to see, and what they may do
 * @param ways the ways to the layout, in the order of the file
 * @param tempo how fast time goes by, of which the file says nothing
 */
record Settings(
    Path layout,
    Path rules,
    NodeId node,
    InetSocketAddress hub,
    InetSocketAddress desk,
    Path state,
    JournalPlan journal,
    ClockPlan clock,
    Extras extras,
    People people,
    List<Way> ways,
    Tempo tempo) {

  /** Where the daemon writes down what happens, and how much of it is kept. */
  record JournalPlan(Path file, Limits limits) {

    /** Beside the daemon's state, as much as is usual. */
    static JournalPlan beside(Path state) {
      return new JournalPlan(state.resolveSibling(state.getFileName() + ".journal"), Limits.USUAL);
    }
  }

  /**
   * What people get to see, and what they may do.
   *
   * @param pages where browsers ask; empty: there are no pages
   * @param territories the parts of the railroad that dispatchers share; none: one has all
   */
  record People(Optional<InetSocketAddress> pages, List<Territory> territories) {

    static final People NONE = new People(Optional.empty(), List.of());

    Map<String, List<String>> placesOf() {
      Map<String, List<String>> places = new LinkedHashMap<>();
      territories.forEach(territory -> places.put(territory.name(), territory.places()));
      return places;
    }
  }

  /**
   * A part of the railroad.
   *
   * @param places the ids of places of the layout
   * @param place where it stands in the settings
   */
  record Territory(String name, List<String> places, Place place) {}

  /** Notes places of territories that the layout does not have. */
  void checkTerritories(Layout railroad, Problems problems) {
    for (Territory territory : people.territories()) {
      for (String unknown : unknown(territory, railroad)) {
        problems.add(
            territory.place(),
            "territory '%s' has place '%s', which the layout does not have"
                .formatted(territory.name(), unknown),
            NearNames.meant(
                unknown, railroad.places().keySet(), "add it under 'places' in the layout"));
      }
    }
  }

  private static List<String> unknown(Territory territory, Layout railroad) {
    return territory.places().stream()
        .filter(place -> !railroad.places().containsKey(place))
        .toList();
  }

  /**
   * What a hub may do besides carrying frames.
   *
   * @param listeners where TCP clients may join that can only listen
   * @param draftHub where TCP clients may join that speak binary messages, a draft
   * @param announcedAs the name under which the hub is announced in the local network
   * @param record the file in which every frame is written down
   * @param metrics where the daemon tells how it fares, in numbers
   * @param mqtt how it uses an MQTT broker
   * @param log in which form problems are told on the console
   */
  record Extras(
      Optional<InetSocketAddress> listeners,
      Optional<InetSocketAddress> draftHub,
      Optional<String> announcedAs,
      Optional<Path> record,
      Optional<InetSocketAddress> metrics,
      Optional<MqttPlan> mqtt,
      LogSetup.Form log) {

    static final Extras NONE =
        new Extras(
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            LogSetup.Form.LINES);
  }

  /** The same for a session on the simulated layout, which has its own clock and trains. */
  Settings forSession(ClockPlan sessionClock) {
    List<Way> empty =
        ways.stream()
            .map(way -> way instanceof Simulator ? new Simulator(List.of()) : way)
            .toList();
    return new Settings(
        layout, rules, node, hub, desk, state, journal, sessionClock, extras, people, empty, tempo);
  }

  /** The same at another tempo, for a railroad that {@link #isAllSimulated}. */
  Settings at(Tempo faster) {
    return new Settings(
        layout, rules, node, hub, desk, state, journal, clock, extras, people, ways, faster);
  }

  /** Whether a layout is simulated. */
  boolean simulates() {
    return ways.stream().anyMatch(Simulator.class::isInstance);
  }

  /** Whether nothing but a simulated layout is reached. */
  boolean isAllSimulated() {
    return ways.stream().allMatch(Simulator.class::isInstance);
  }

  /** Notes simulated trains that cannot stand on the layout as the settings say. */
  void checkTrains(Layout railroad, Problems problems) {
    for (Way way : ways) {
      if (way instanceof Simulator simulator) {
        Railway trial = new Railway(new TrackPlan(railroad), List.of(), frame -> {});
        simulator.trains().forEach(train -> checkTrain(train, trial, problems));
      }
    }
  }

  private static void checkTrain(TrainReader.Placed train, Railway trial, Problems problems) {
    trial
        .place(train.spec())
        .map(whyNot -> whyNot.split("; ", 2))
        .ifPresent(parts -> problems.add(train.place(), parts[0], parts[1]));
  }

  /** One way to the layout. */
  sealed interface Way {

    /** What it leads to; two ways to the same thing are one too many. */
    String words();
  }

  /**
   * A serial adapter.
   *
   * @param device its path
   * @param rate in bits a second
   * @param form how frames are written on the line
   */
  record Serial(String device, int rate, SerialForm form, Access access) implements Way {
    @Override
    public String words() {
      return device;
    }
  }

  /** Another hub, as its TCP client. */
  record Tcp(String host, int port, Access access) implements Way {
    @Override
    public String words() {
      return host + ":" + port;
    }
  }

  /** Another hub, as its TCP client that speaks binary messages: a draft (TCP-S (draft)). */
  record TcpDraft(String host, int port) implements Way {
    @Override
    public String words() {
      return host + ":" + port;
    }
  }

  /** A recording that is played at its own speed. */
  record Recording(Path file) implements Way {
    @Override
    public String words() {
      return file.toString();
    }
  }

  /** The simulated railway. */
  record Simulator(List<TrainReader.Placed> trains) implements Way {

    @Override
    public String words() {
      return "the simulator";
    }

    List<TrainSpec> specs() {
      return trains.stream().map(TrainReader.Placed::spec).toList();
    }
  }
}
