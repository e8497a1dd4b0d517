package tappet.interlocking;

import static tappet.network.Expression.is;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import tappet.layout.Lineside;
import tappet.layout.TrackPlan;
import tappet.network.Explainer;
import tappet.network.Explanation;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.rules.ButtonRequest.Asked;
import tappet.rules.ControlTable;
import tappet.rules.RouteRow;

/** The circuits of all devices that are neither sections, switches nor signals. */
final class LinesideCircuits {

  /** What people are told of a variable. */
  @FunctionalInterface
  interface Teller {
    void tell(Variable variable, String whenTrue, String whenFalse);
  }

  /** What the field is told when a variable becomes true, and when it becomes false. */
  record Outlet(Optional<Output> whenTrue, Optional<Output> whenFalse) {

    Optional<Output> when(boolean value) {
      return value ? whenTrue : whenFalse;
    }
  }

  /** A press that counts, and what it asks. */
  record Press(ButtonCircuit button, Asked asked) {}

  final Map<String, DistrictCircuit> districts = new LinkedHashMap<>();
  final Map<String, OpeningCircuit> openings = new LinkedHashMap<>();
  final Map<String, CrossingCircuit> crossings = new LinkedHashMap<>();
  private final Map<String, LampCircuit> indicators = new LinkedHashMap<>();
  private final Map<String, ButtonCircuit> buttons = new LinkedHashMap<>();
  private final Map<String, SpotCircuit> spots = new LinkedHashMap<>();

  /** By lamp: whether it is to be lit; lamps without work are not here. */
  private final Map<String, Variable> lamps = new LinkedHashMap<>();

  private final Lineside devices;
  private final Map<Variable, Press> presses = new LinkedHashMap<>();

  LinesideCircuits(TrackPlan plan, ControlTable table, NetworkBuilder network) {
    devices = plan.layout().lineside();
    devices
        .districts()
        .forEach((id, district) -> districts.put(id, new DistrictCircuit(district, network)));
    devices
        .openings()
        .forEach((id, opening) -> openings.put(id, new OpeningCircuit(opening, network)));
    devices.spots().forEach((id, spot) -> spots.put(id, new SpotCircuit(spot, plan, network)));
    table
        .lineside()
        .crossings()
        .forEach(
            (id, row) ->
                crossings.put(id, new CrossingCircuit(devices.crossings().get(id), row, network)));
    declareLampsAndButtons(table, network);
  }

  private void declareLampsAndButtons(ControlTable table, NetworkBuilder network) {
    for (var indicator : table.lineside().indicators()) {
      var circuit = new LampCircuit(devices.lamps().get(indicator.lamp()), indicator, network);
      indicators.put(indicator.lamp(), circuit);
      lamps.put(indicator.lamp(), circuit.lit);
    }
    for (var request : table.lineside().requests()) {
      var circuit =
          new ButtonCircuit(
              devices.buttons().get(request.button()), request, devices.lamps(), network);
      buttons.put(request.button(), circuit);
      lamps.putAll(circuit.lamps());
      circuit.asks().forEach((counts, asked) -> presses.put(counts, new Press(circuit, asked)));
    }
  }

  void define(Circuits circuits) {
    kinds().flatMap(kind -> kind.values().stream()).forEach(circuit -> circuit.define(circuits));
  }

  private Stream<Map<String, ? extends LinesideCircuit>> kinds() {
    return Stream.of(districts, openings, crossings, indicators, buttons, spots);
  }

  /** Every circuit by the id of its device; of two with one id, the first. */
  private Map<String, LinesideCircuit> all() {
    Map<String, LinesideCircuit> all = new LinkedHashMap<>();
    kinds().forEach(kind -> kind.forEach(all::putIfAbsent));
    return all;
  }

  /** The district that feeds a section, where the owner has named one. */
  Optional<DistrictCircuit> districtOf(String section) {
    return devices.districtOf(section).map(district -> districts.get(district.id()));
  }

  /** What these devices demand before a route is given. */
  List<Expression> demandsOf(RouteRow row) {
    return openings.values().stream()
        .filter(opening -> opening.liesUnder(row))
        .<Expression>map(opening -> is(opening.secured()))
        .toList();
  }

  /** What grade crossings must prove before and while a route's signal shows a proceed aspect. */
  List<Expression> proofsOf(RouteCircuit route, Circuits circuits) {
    List<Expression> proofs = new ArrayList<>();
    crossings.values().forEach(crossing -> proofs.addAll(crossing.proofsOf(route, circuits)));
    return proofs;
  }

  void lay(Input.OfLineside report, Stepper stepper) {
    if (report instanceof Input.DistrictReport district) {
      districts.get(district.district()).lay(district.tripped(), stepper);
    } else if (report instanceof Input.OpeningReport opening) {
      openings.get(opening.opening()).layLeaf(opening.closed(), stepper);
    } else if (report instanceof Input.BoltReport lock) {
      openings.get(lock.opening()).layBolt(lock.locked(), stepper);
    } else if (report instanceof Input.SpotReport spot) {
      spots.get(spot.spot()).lay(spot.heading(), stepper);
    } else if (report instanceof Input.ButtonReport button
        && buttons.containsKey(button.button())) {
      buttons.get(button.button()).lay(button.pressed(), button.happened(), stepper);
    }
  }

  /** By lamp that has work: whether it is to be lit. */
  Map<String, Variable> lamps() {
    return lamps;
  }

  /** What is asked by a button when which variable becomes true. */
  Map<Variable, Press> presses() {
    return presses;
  }

  /** What the field is told of the changes of which variables. */
  Map<Variable, Outlet> outlets() {
    Map<Variable, Outlet> outlets = new LinkedHashMap<>();
    lamps.forEach(
        (id, lit) ->
            outlets.put(lit, outlet(new Output.Light(id, true), new Output.Light(id, false))));
    crossings.forEach(
        (id, crossing) ->
            outlets.put(
                crossing.warns, outlet(new Output.Warn(id, true), new Output.Warn(id, false))));
    openings.forEach(
        (id, opening) -> {
          outlets.put(opening.sentLocked, onlyWhenTrue(new Output.Bolt(id, true)));
          outlets.put(opening.sentUnlocked, onlyWhenTrue(new Output.Bolt(id, false)));
        });
    return outlets;
  }

  private static Outlet outlet(Output whenTrue, Output whenFalse) {
    return new Outlet(Optional.of(whenTrue), Optional.of(whenFalse));
  }

  private static Outlet onlyWhenTrue(Output whenTrue) {
    return new Outlet(Optional.of(whenTrue), Optional.empty());
  }

  /** What lamps and crossings are to show now. */
  List<Output> standing(Stepper stepper) {
    List<Output> outputs = new ArrayList<>();
    for (String id : devices.lamps().keySet()) {
      outputs.add(new Output.Light(id, lamps.containsKey(id) && stepper.value(lamps.get(id))));
    }
    crossings.forEach(
        (id, crossing) -> outputs.add(new Output.Warn(id, stepper.value(crossing.warns))));
    return outputs;
  }

  /** What a person must see to while it is true. */
  List<Variable> alarms() {
    List<Variable> alarms = new ArrayList<>();
    districts.values().forEach(district -> alarms.add(district.tripped));
    for (OpeningCircuit opening : openings.values()) {
      alarms.add(opening.openWithoutLeave);
      opening.outOfCorrespondence.ifPresent(alarms::add);
    }
    crossings.values().forEach(crossing -> alarms.add(crossing.warnsTooLong));
    return alarms;
  }

  /** Tells which changes are worth a word. */
  void tellAll(Teller teller) {
    alarms()
        .forEach(alarm -> teller.tell(alarm, alarm.words().whenTrue(), alarm.words().whenFalse()));
    openings.values().forEach(opening -> tellOf(opening, teller));
    lamps.values().forEach(lit -> tellOf(lit, teller));
    crossings.values().forEach(crossing -> tellOf(crossing.warns, teller));
    spots.values().forEach(spot -> spot.announcements().forEach(told -> tellOf(told, teller)));
  }

  private static void tellOf(Variable variable, Teller teller) {
    teller.tell(variable, variable.words().whenTrue(), variable.words().whenFalse());
  }

  private static void tellOf(OpeningCircuit opening, Teller teller) {
    String name = Naming.opening(opening.opening);
    String state = opening.opening.lock().isPresent() ? "closed and locked" : "closed";
    teller.tell(
        opening.secured(), name + " is " + state, name + " is no longer known to be " + state);
    teller.tell(opening.sentLocked, name + " is being locked", "");
    teller.tell(opening.sentUnlocked, name + " is being unlocked", "");
  }

  List<String> names() {
    return List.copyOf(all().keySet());
  }

  Optional<Explanation> why(String name, Stepper stepper, Explainer explainer) {
    return Optional.ofNullable(all().get(name)).map(circuit -> circuit.explain(stepper, explainer));
  }
}
