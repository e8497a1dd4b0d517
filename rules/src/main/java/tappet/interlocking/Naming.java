package tappet.interlocking;

import tappet.layout.LinesideDevice;
import tappet.layout.Opening;
import tappet.layout.Section;
import tappet.layout.Signal;
import tappet.layout.Switch;
import tappet.rules.RouteRow;

/** How devices are called in sentences: by their id, and by the owner's name where there is one. */
final class Naming {

  private Naming() {}

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
