package tappet.simulator;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import tappet.sentence.Command.End;

/**
 * What a train is made up of.
 *
 * @param vehicles from the head to the rear, one or more
 */
record Makeup(List<Vehicle> vehicles) {

  /**
   * An engine or a car.
   *
   * @param metres from coupler to coupler
   */
  record Vehicle(boolean isEngine, double metres) {}

  Makeup {
    vehicles = List.copyOf(vehicles);
  }

  /**
   * A train as it is placed, its engine at the head: so many vehicles as go into its length. Where
   * nobody knows how long a car is, it is all one piece.
   */
  static Makeup of(TrainSpec spec, Optional<Double> carLength) {
    double metres = spec.lengthMetres();
    long count = carLength.map(car -> Math.max(1, Math.round(metres / car))).orElse(1L);
    List<Vehicle> vehicles = new ArrayList<>();
    for (int place = 0; place < count; place++) {
      vehicles.add(new Vehicle(spec.engine() && place == 0, metres / count));
    }
    return new Makeup(vehicles);
  }

  boolean hasEngine() {
    return vehicles.stream().anyMatch(Vehicle::isEngine);
  }

  /** How many cars there are, besides engines. */
  int cars() {
    return (int) vehicles.stream().filter(vehicle -> !vehicle.isEngine()).count();
  }

  /** How many cars can be taken off at an end; something stays. */
  int carsAt(End end) {
    List<Vehicle> fromEnd = end == End.FRONT ? vehicles : turned().vehicles;
    int cars = 0;
    while (cars < vehicles.size() - 1 && !fromEnd.get(cars).isEngine()) {
      cars++;
    }
    return cars;
  }

  /** The end that cars are set out from: the one without an engine, if the other has one. */
  Optional<End> endWithoutEngine() {
    boolean ahead = vehicles.get(0).isEngine();
    boolean behind = vehicles.get(vehicles.size() - 1).isEngine();
    return ahead == behind ? Optional.empty() : Optional.of(ahead ? End.REAR : End.FRONT);
  }

  /** How far behind the head the first engine begins, in metres; 0 where there is none. */
  double metresToEngine() {
    double metres = 0;
    for (Vehicle vehicle : vehicles) {
      if (vehicle.isEngine()) {
        return metres;
      }
      metres += vehicle.metres();
    }
    return 0;
  }

  double lengthMetres() {
    return vehicles.stream().mapToDouble(Vehicle::metres).sum();
  }

  /** The same, with the rear for the head. */
  Makeup turned() {
    List<Vehicle> turned = new ArrayList<>(vehicles);
    Collections.reverse(turned);
    return new Makeup(turned);
  }

  /** The same, coupled to what is ahead of it. */
  Makeup behind(Makeup ahead) {
    List<Vehicle> joined = new ArrayList<>(ahead.vehicles);
    joined.addAll(vehicles);
    return new Makeup(joined);
  }

  /** So many vehicles at an end. */
  Makeup part(End end, int count) {
    int size = vehicles.size();
    return new Makeup(
        end == End.FRONT ? vehicles.subList(0, count) : vehicles.subList(size - count, size));
  }

  /** What is left without so many vehicles at an end. */
  Makeup without(End end, int count) {
    return part(end == End.FRONT ? End.REAR : End.FRONT, vehicles.size() - count);
  }
}
