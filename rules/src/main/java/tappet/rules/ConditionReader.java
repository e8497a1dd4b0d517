package tappet.rules;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import tappet.layout.Layout;
import tappet.layout.Lineside;
import tappet.sentence.Condition;
import tappet.sentence.Protected;
import tappet.sentence.Sentences;
import tappet.source.NearNames;
import tappet.source.Place;
import tappet.source.Problems;
import tappet.source.Value;

/** Reads conditions and checks that every name in them is declared. */
final class ConditionReader {

  private final Layout layout;
  private final Problems problems;
  private final List<Condition.RouteIsLocked> routesNamed = new ArrayList<>();
  private final List<NamedLine> linesNamed = new ArrayList<>();

  private record NamedLine(String line, Place place) {}

  ConditionReader(Layout layout, Problems problems) {
    this.layout = layout;
    this.problems = problems;
  }

  Optional<Condition> read(Value value) {
    Optional<Condition> condition =
        value.text().flatMap(text -> Sentences.condition(text.value(), text.textPlace(), problems));
    condition.ifPresent(this::checkNames);
    return condition;
  }

  /**
   * Checks the routes named so far, which may stand further down in the file than the condition.
   */
  void checkRoutes(Collection<String> routes) {
    routesNamed.forEach(named -> check(named.route(), "rule file", "route", routes, named.place()));
  }

  /** Checks the lines between control points named so far. */
  void checkLines(Collection<String> lines) {
    linesNamed.forEach(named -> check(named.line(), "rule file", "line", lines, named.place()));
  }

  /** Notes a line between control points, whose table is read later. */
  void lineNamed(String line, Place place) {
    linesNamed.add(new NamedLine(line, place));
  }

  private void checkNames(Condition condition) {
    if (condition instanceof Condition.SectionIs is) {
      check(is.section(), "layout", "section", layout.sections().keySet(), is.place());
    } else if (condition instanceof Condition.SwitchIs is) {
      check(is.switchId(), "layout", "switch", layout.switches().keySet(), is.place());
    } else if (condition instanceof Condition.SignalIs is) {
      checkSignal(is);
    } else if (condition instanceof Condition.IsProtected is) {
      check(is.device(), "layout", is.by().device().word(), devices(is.by()), is.place());
    } else if (condition instanceof Condition.RouteIsLocked is) {
      routesNamed.add(is);
    } else if (condition instanceof Condition.TrafficIs is) {
      lineNamed(is.line(), is.place());
    } else if (condition instanceof Condition.DistrictIsTripped is) {
      isInLayout(is.district(), "power district", lineside().districts().keySet(), is.place());
    } else if (condition instanceof Condition.OpeningIs is) {
      checkOpening(is);
    } else if (condition instanceof Condition.CrossingIsWarning is) {
      isInLayout(is.crossing(), "grade crossing", lineside().crossings().keySet(), is.place());
    } else if (condition instanceof Condition.Not not) {
      checkNames(not.part());
    } else if (condition instanceof Condition.All all) {
      all.parts().forEach(this::checkNames);
    } else if (condition instanceof Condition.Any any) {
      any.parts().forEach(this::checkNames);
    }
  }

  private Collection<String> devices(Protected by) {
    return switch (by.device()) {
      case SIGNAL -> layout.signals().keySet();
      case SWITCH -> layout.switches().keySet();
      case SECTION -> layout.sections().keySet();
    };
  }

  private void checkSignal(Condition.SignalIs is) {
    if (check(is.signal(), "layout", "signal", layout.signals().keySet(), is.place())) {
      Collection<String> aspects = layout.signals().get(is.signal()).aspects();
      if (!aspects.contains(is.aspect())) {
        problems.add(
            is.place(),
            "signal %s never shows '%s'".formatted(is.signal(), is.aspect()),
            NearNames.meant(is.aspect(), aspects, "it shows nothing"));
      }
    }
  }

  private Lineside lineside() {
    return layout.lineside();
  }

  private void checkOpening(Condition.OpeningIs is) {
    boolean ofItsLock =
        is.state() == Condition.OpeningState.LOCKED
            || is.state() == Condition.OpeningState.UNLOCKED;
    if (isInLayout(is.opening(), "opening", lineside().openings().keySet(), is.place())
        && ofItsLock
        && lineside().openings().get(is.opening()).lock().isEmpty()) {
      problems.add(
          is.place(),
          "opening %s has no lock".formatted(is.opening()),
          "write 'opening %s is closed'".formatted(is.opening()));
    }
  }

  /** Whether the layout has a device of that name; notes it where it has not. */
  boolean isInLayout(String name, String kind, Collection<String> known, Place place) {
    return check(name, "layout", kind, known, place);
  }

  private boolean check(
      String name, String file, String kind, Collection<String> known, Place place) {
    if (known.contains(name)) {
      return true;
    }
    problems.add(
        place,
        "this %s has no %s '%s'".formatted(file, kind, name),
        NearNames.meant(name, known, "declare it first"));
    return false;
  }
}
