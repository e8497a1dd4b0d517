package tappet.bridge.rehearsal;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import tappet.interlocking.Interlocking;
import tappet.interlocking.Step;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.rules.ControlTable;
import tappet.rules.RouteRow;
import tappet.sentence.Command;
import tappet.sentence.Command.Heading;
import tappet.sentence.Condition;
import tappet.sentence.Happening;
import tappet.sentence.Protected;
import tappet.simulator.Railway;
import tappet.source.Place;

/** Follows one scenario, and looks at its railroad whenever the box has done something. */
final class CoverageFollower {

  static final String GIVEN = " given";
  static final String NOT_GIVEN = " refused";
  static final String ENDED = " ended";

  private static final Place NOWHERE = Place.inText("coverage", 1);

  private final Coverage coverage;
  private final ControlTable table;
  private final VirtualRailroad railroad;
  private final Railway railway;
  private final Facts facts;
  private final List<Probe> open = new ArrayList<>();
  private List<String> lockedBefore = List.of();
  private boolean somethingChanged = true;

  /** Something that has not been tried yet, and whether it is tried at this moment. */
  private record Probe(Tried kind, String name, BooleanSupplier isTried) {}

  /**
   * @param coverage is told what has been tried
   */
  CoverageFollower(Coverage coverage, ControlTable table, VirtualRailroad railroad, Facts facts) {
    this.coverage = coverage;
    this.table = table;
    this.railroad = railroad;
    this.railway = railroad.railway();
    this.facts = facts;
    table.routes().values().forEach(this::probe);
    probeLines();
    probeDevices();
    table.flags().forEach(row -> probe(row.section()));
    coverage.needs().forEach((name, need) -> probe(Tried.NEEDED, name, () -> !facts.isSo(need)));
  }

  /** That of the box which the daemon has at this moment. */
  private Interlocking interlocking() {
    return railroad.interlocking();
  }

  private void probe(RouteRow row) {
    BooleanSupplier locked = () -> interlocking().routeLocked(row.id());
    probe(Tried.LINED, row.id(), locked);
    probe(Tried.PROCEEDED, row.id(), () -> locked.getAsBoolean() && proceeds(row.from()));
    probe(
        Tried.RUN,
        row.id(),
        () ->
            locked.getAsBoolean()
                && is(row.path().get(row.path().size() - 1), Condition.Occupancy.OCCUPIED));
  }

  private boolean proceeds(String signal) {
    return !interlocking().aspect(signal).equals(Signal.STOP);
  }

  private boolean is(String section, Condition.Occupancy occupancy) {
    return interlocking().occupancy(section) == occupancy;
  }

  private void probeLines() {
    for (String line : table.lines().keySet()) {
      for (Heading heading : Heading.values()) {
        var traffic = new Condition.TrafficIs(line, heading, NOWHERE);
        probe(Tried.TRAFFIC, line + " " + heading.word(), () -> facts.isSo(traffic));
      }
    }
  }

  private void probeDevices() {
    for (Signal signal : interlocking().layout().signals().values()) {
      for (String aspect : signal.aspects()) {
        probe(
            Tried.ASPECT,
            signal.id() + " " + aspect,
            () -> railway.aspect(signal.id()).equals(aspect));
      }
    }
    for (String toe : interlocking().layout().switches().keySet()) {
      for (Position position : Position.values()) {
        probe(
            Tried.LAID,
            toe + " " + position.word(),
            () -> interlocking().position(toe).equals(Optional.of(position)));
      }
    }
    table
        .locks()
        .keySet()
        .forEach(toe -> probe(Tried.RELEASED, toe, () -> !railway.isSecured(toe)));
    table
        .lineside()
        .crossings()
        .keySet()
        .forEach(id -> probe(Tried.WARNED, id, () -> railway.isWarning(id)));
    table
        .lineside()
        .indicators()
        .forEach(row -> probe(Tried.LIT, row.lamp(), () -> railway.isLit(row.lamp())));
  }

  private void probe(String flagged) {
    var flag = new Condition.IsProtected(flagged, Protected.FLAG, NOWHERE);
    probe(Tried.FLAGGED, flagged, () -> facts.isSo(flag));
  }

  private void probe(Tried kind, String name, BooleanSupplier isTried) {
    if (coverage.isOpen(kind, name)) {
      open.add(new Probe(kind, name, isTried));
    }
  }

  /** The interlocking has taken a step. */
  void stepped(Step step) {
    somethingChanged |= !step.changes().isEmpty() || !step.outputs().isEmpty();
  }

  /** Looks at what is being tried at this moment. */
  void look() {
    if (somethingChanged) {
      somethingChanged = false;
      open.removeIf(this::isTried);
    }
  }

  private boolean isTried(Probe probe) {
    boolean isTried = probe.isTried().getAsBoolean();
    if (isTried) {
      coverage.note(probe.kind(), probe.name());
    }
    return isTried;
  }

  /** A person is about to ask for something. */
  void aboutToTell(Command command) {
    lockedBefore =
        command instanceof Command.Cancel cancel
            ? table.routesFrom(cancel.signal()).stream()
                .map(RouteRow::id)
                .filter(interlocking()::routeLocked)
                .toList()
            : List.of();
  }

  /** A person has asked for something. */
  void told(Command command, boolean done) {
    somethingChanged = true;
    if (command instanceof Command.OfRoute asked) {
      table.routesFrom(asked.from()).stream()
          .filter(row -> row.to().equals(asked.to()) && !done)
          .forEach(row -> coverage.note(Tried.REFUSED, row.id()));
    } else if (command instanceof Command.LineRoute asked) {
      noteIf(!done, Tried.REFUSED, asked.route());
    } else if (command instanceof Command.Cancel) {
      lockedBefore.forEach(route -> noteIf(done, Tried.CANCELLED, route));
    } else if (command instanceof Command.Throw order) {
      noteIf(!done, Tried.HELD, order.switchId());
    } else if (command instanceof Command.ThrowFor order) {
      noteIf(!done, Tried.HELD, order.switchId());
    } else if (command instanceof Command.Release release) {
      noteIf(!done, Tried.LOCKED, release.switchId());
    } else if (command instanceof Command.Unlock unlock) {
      coverage.note(done ? Tried.UNLOCKED : Tried.CLOSED, unlock.opening());
    } else if (command instanceof Command.OfProtection order) {
      protectedOrNot(order, done);
    }
  }

  private void protectedOrNot(Command.OfProtection order, boolean done) {
    if (order instanceof Command.Protect) {
      coverage.note(Tried.PROTECTION, protection(order) + (done ? GIVEN : NOT_GIVEN));
    } else {
      noteIf(done, Tried.PROTECTION, protection(order) + ENDED);
    }
  }

  private static String protection(Command.OfProtection order) {
    if (order instanceof Command.GrantPermit || order instanceof Command.ReturnPermit) {
      return "permit";
    }
    boolean flag = order instanceof Command.Flag || order instanceof Command.Unflag;
    return flag ? "blue flag" : "blocking";
  }

  private void noteIf(boolean so, Tried kind, String name) {
    if (so) {
      coverage.note(kind, name);
    }
  }

  /** Something has befallen the railroad, or has been kept from it. */
  void happened(Happening happening, boolean done) {
    somethingChanged = true;
    noteIf(done, Tried.HAPPENED, Coverage.words(happening.getClass()));
    if (happening instanceof Happening.ButtonIs button && button.pressed()) {
      coverage.note(Tried.PRESSED, button.button());
    }
  }
}
