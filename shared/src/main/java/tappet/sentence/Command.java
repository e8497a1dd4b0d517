package tappet.sentence;

import java.util.Optional;
import tappet.layout.Position;
import tappet.lcc.clock.ClockEvent;
import tappet.source.Place;

/** Something a person asks the railroad to do. A place is where the name stands. */
public sealed interface Command {

  /**
   * {@code line A to B}: ask for a route from one signal to another signal or end of track.
   *
   * @param place where {@code from} stands
   * @param toPlace where {@code to} stands
   */
  record Line(String from, String to, Place place, Place toPlace) implements Command {}

  /** {@code cancel A}: take the signal away and give the route up. */
  record Cancel(String signal, Place place) implements Command {}

  /** {@code throw W reverse}. */
  record Throw(String switchId, Position position, Place place) implements Command {}

  /**
   * {@code release Q}, {@code release Q to 'Extra 41'}: let the crew throw a switch that an
   * electric lock holds.
   *
   * @param holder to whom it is released
   */
  record Release(String switchId, Optional<String> holder, Place place) implements Command {}

  /** {@code secure Q}: take a released switch back. */
  record Secure(String switchId, Place place) implements Command {}

  /** {@code run T}, {@code run T east}: let a simulated train go, turning it where told. */
  record Run(String train, Optional<Heading> heading, Place place) implements Command {}

  /** {@code halt T}: bring a simulated train to a stand. */
  record Halt(String train, Place place) implements Command {}

  /** Something for the layout's clock. */
  sealed interface OfClock extends Command {}

  /** {@code start clock}. */
  record StartClock() implements OfClock {}

  /** {@code stop clock}. */
  record StopClock() implements OfClock {}

  /** {@code set clock to 06:30}, {@code set clock rate to 4}. */
  record SetClock(ClockEvent.Setting setting) implements OfClock {}

  /** Which way along the drawn plan: east is where {@code x} grows. */
  enum Heading {
    EAST,
    WEST
  }
}
