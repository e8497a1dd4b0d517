package tappet.interlocking;

import tappet.layout.LinesideDevice;
import tappet.layout.Opening;
import tappet.layout.Section;
import tappet.layout.Signal;
import tappet.layout.Switch;
import tappet.rules.RouteRow;

/** How devices are called in sentences: by their id, and by the owner's name where there is one. */
final class Naming {

  /** How the name of a route, or of what belongs to it, begins. */
  static final String ROUTE = "route ";

  static final String SIGNAL = "signal ";

  /** What the time since the start belongs to. */
  static final String START = "start";

  private Naming() {}

  /** The device that a variable belongs to, as its name begins: {@code route t2e-t4e}. */
  static String deviceOf(String variable) {
    int end = variable.indexOf(": ");
    return end < 0 ? variable : variable.substring(0, end);
  }

  static String section(Section section) {
    return called("section", section.id(), section.name());
  }

  static String toe(Switch toe) {
    return called(toe.working().derail() ? "derail" : "switch", toe.id(), toe.name());
  }

  static String signal(Signal signal) {
    return called("signal", signal.id(), signal.name());
  }

  static String route(RouteRow row) {
    return "route " + row.id();
  }

  static String device(LinesideDevice device) {
    return called(device.kind(), device.id(), device.name());
  }

  static String opening(Opening opening) {
    String form = "a " + opening.form().word();
    return called(
        opening.kind(),
        opening.id(),
        opening.name().equals(opening.id()) ? form : opening.name() + ", " + form);
  }

  private static String called(String kind, String id, String name) {
    return name.equals(id) ? kind + " " + id : kind + " " + id + " (" + name + ")";
  }
}
