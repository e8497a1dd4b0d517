package tappet.bridge.rehearsal;

import java.util.ArrayList;
import java.util.Collection;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.stream.Stream;
import tappet.interlocking.Interlocking;
import tappet.interlocking.Step;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.rules.ControlTable;
import tappet.rules.OwnersNeed;
import tappet.rules.RouteRow;
import tappet.sentence.Command;
import tappet.sentence.Command.Heading;
import tappet.sentence.Condition;
import tappet.sentence.Happening;
import tappet.sentence.Protected;
import tappet.simulator.Railway;
import tappet.source.Place;

/** What of a railroad's rules the scenarios have tried, and what none of them has. */
public final class Coverage {

  private static final Place NOWHERE = Place.inText("coverage", 1);

  /** What can be tried. */
  private enum Kind {
    LINED("routes lined"),
    PROCEEDED("routes whose signal has shown a proceed aspect"),
    RUN("routes with a train in their last section"),
    REFUSED("routes refused"),
    CANCELLED("routes cancelled"),
    TRAFFIC("lines with their traffic set each way"),
    ASPECT("aspects shown"),
    LAID("switches brought to lie each way"),
    HELD("switches refused to be thrown"),
    RELEASED("electric locks released"),
    LOCKED("electric locks refused to be released"),
    UNLOCKED("openings unlocked"),
    CLOSED("openings refused to be unlocked"),
    FLAGGED("rows of flags with the section flagged"),
    WARNED("grade crossings warning"),
    LIT("indicators lit"),
    PRESSED("buttons with a request pressed"),
    NEEDED("needs of the owner not fulfilled"),
    PROTECTION("protections given, refused and ended"),
    HAPPENED("things that can befall a railroad");

    private final String words;

    Kind(String words) {
      this.words = words;
    }
  }

  private static final String GIVEN = " given";
  private static final String NOT_GIVEN = " refused";

  private final Layout layout;
  private final ControlTable table;

  /** By kind: each thing there is to try, and whether it has been tried. */
  private final Map<Kind, Map<String, Boolean>> tried = new EnumMap<>(Kind.class);

  /** Nothing has been tried yet. */
  public Coverage(Layout layout, ControlTable table) {
    this.layout = layout;
    this.table = table;
    for (Kind kind : Kind.values()) {
      tried.put(kind, new LinkedHashMap<>());
    }
    listRoutes();
    listDevices();
    listPeople();
  }

  private void listRoutes() {
    Stream.of(Kind.LINED, Kind.PROCEEDED, Kind.RUN)
        .forEach(kind -> list(kind, table.routes().keySet()));
    List<String> asked =
        table.routes().values().stream().filter(row -> !row.automatic()).map(RouteRow::id).toList();
    list(Kind.REFUSED, asked);
    list(Kind.CANCELLED, asked);
    table
        .lines()
        .values()
        .forEach(
            line ->
                line.signals().entrySet().stream()
                    .filter(way -> !way.getValue().isEmpty())
                    .forEach(way -> list(Kind.TRAFFIC, line.id() + " " + way.getKey().word())));
  }

  private void listDevices() {
    layout.signals().values().forEach(this::listAspects);
    for (String toe : layout.switches().keySet()) {
      for (Position position : Position.values()) {
        list(Kind.LAID, toe + " " + position.word());
      }
    }
    layout.switches().values().stream()
        .filter(toe -> toe.control().hasMotor() && toe.number().equals(toe.id()))
        .forEach(toe -> list(Kind.HELD, toe.id()));
    list(Kind.RELEASED, table.locks().keySet());
    list(Kind.LOCKED, table.locks().keySet());
    layout.lineside().openings().values().stream()
        .filter(opening -> opening.lock().isPresent())
        .forEach(opening -> list(List.of(Kind.UNLOCKED, Kind.CLOSED), opening.id()));
    list(Kind.WARNED, table.lineside().crossings().keySet());
    table.lineside().indicators().forEach(row -> list(Kind.LIT, row.lamp()));
    table.lineside().requests().forEach(row -> list(Kind.PRESSED, row.button()));
  }

  /** The aspects that a signal can show, whether the rules ever make it show them or not. */
  private void listAspects(Signal signal) {
    signal.aspects().forEach(aspect -> list(Kind.ASPECT, signal.id() + " " + aspect));
  }

  private void listPeople() {
    table.flags().forEach(row -> list(Kind.FLAGGED, row.section()));
    needs().keySet().forEach(need -> list(Kind.NEEDED, need));
    for (String protection : List.of("permit", "blocking", "blue flag")) {
      list(Kind.PROTECTION, protection + GIVEN);
      list(Kind.PROTECTION, protection + NOT_GIVEN);
      list(Kind.PROTECTION, protection + " ended");
    }
    Stream.of(Happening.class.getPermittedSubclasses())
        .filter(Record.class::isAssignableFrom)
        .forEach(kind -> list(Kind.HAPPENED, words(kind)));
  }

  /** What the owner demands, under where it is demanded. */
  private Map<String, Condition> needs() {
    Map<String, Condition> needs = new LinkedHashMap<>();
    for (RouteRow row : table.routes().values()) {
      row.needs().ifPresent(condition -> needs.put("route " + row.id(), condition));
    }
    for (OwnersNeed need : table.needs()) {
      needs.put(need.of().word() + " " + need.id() + " at " + need.place(), need.condition());
    }
    return needs;
  }

  private void list(Collection<Kind> kinds, String name) {
    kinds.forEach(kind -> list(kind, name));
  }

  private void list(Kind kind, Collection<String> names) {
    names.forEach(name -> list(kind, name));
  }

  private void list(Kind kind, String name) {
    tried.get(kind).putIfAbsent(name, false);
  }

  /** Only what was listed counts: a scenario may try more than the rules speak of. */
  private void note(Kind kind, String name) {
    tried.get(kind).replace(name, true);
  }

  /** {@code MotorSticks} as {@code motor sticks}. */
  private static String words(Class<?> happening) {
    return happening.getSimpleName().replaceAll("([a-z])([A-Z])", "$1 $2").toLowerCase(Locale.ROOT);
  }

  /** Each kind with how many there are and how many have been tried, then those that have not. */
  public String text() {
    StringBuilder text = new StringBuilder();
    tried.forEach(
        (kind, names) -> {
          if (!names.isEmpty()) {
            text.append(line(kind, names));
          }
        });
    return text.toString();
  }

  private static String line(Kind kind, Map<String, Boolean> names) {
    List<String> untried =
        names.entrySet().stream().filter(name -> !name.getValue()).map(Map.Entry::getKey).toList();
    String count =
        "%3d of %3d  %s%n".formatted(names.size() - untried.size(), names.size(), kind.words);
    return untried.isEmpty()
        ? count
        : count + "            not tried: " + String.join(", ", untried) + "\n";
  }

  /** Follows one scenario. */
  Follower follower(VirtualRailroad railroad, Facts facts) {
    return new Follower(railroad, facts);
  }

  /** Looks at a railroad whenever its box has done something. */
  final class Follower {

    private final Interlocking interlocking;
    private final Railway railway;
    private final Facts facts;
    private final List<Probe> open = new ArrayList<>();
    private List<String> lockedBefore = List.of();
    private boolean somethingChanged = true;

    /** Something that has not been tried yet, and whether it is tried at this moment. */
    private record Probe(Kind kind, String name, BooleanSupplier isTried) {}

    private Follower(VirtualRailroad railroad, Facts facts) {
      this.interlocking = railroad.interlocking();
      this.railway = railroad.railway();
      this.facts = facts;
      table.routes().values().forEach(this::probe);
      probeLines();
      probeDevices();
      table.flags().forEach(row -> probe(row.section()));
      needs().forEach((name, need) -> probe(Kind.NEEDED, name, () -> !facts.isSo(need)));
    }

    private void probe(RouteRow row) {
      BooleanSupplier locked = () -> interlocking.routeLocked(row.id());
      probe(Kind.LINED, row.id(), locked);
      probe(Kind.PROCEEDED, row.id(), () -> locked.getAsBoolean() && proceeds(row.from()));
      probe(
          Kind.RUN,
          row.id(),
          () ->
              locked.getAsBoolean()
                  && is(row.path().get(row.path().size() - 1), Condition.Occupancy.OCCUPIED));
    }

    private boolean proceeds(String signal) {
      return !interlocking.aspect(signal).equals(Signal.STOP);
    }

    private boolean is(String section, Condition.Occupancy occupancy) {
      return interlocking.occupancy(section) == occupancy;
    }

    private void probeLines() {
      for (String line : table.lines().keySet()) {
        for (Heading heading : Heading.values()) {
          var traffic = new Condition.TrafficIs(line, heading, NOWHERE);
          probe(Kind.TRAFFIC, line + " " + heading.word(), () -> facts.isSo(traffic));
        }
      }
    }

    private void probeDevices() {
      for (Signal signal : layout.signals().values()) {
        for (String aspect : signal.aspects()) {
          probe(
              Kind.ASPECT,
              signal.id() + " " + aspect,
              () -> railway.aspect(signal.id()).equals(aspect));
        }
      }
      for (String toe : layout.switches().keySet()) {
        for (Position position : Position.values()) {
          probe(
              Kind.LAID,
              toe + " " + position.word(),
              () -> interlocking.position(toe).equals(Optional.of(position)));
        }
      }
      table
          .locks()
          .keySet()
          .forEach(toe -> probe(Kind.RELEASED, toe, () -> !railway.isSecured(toe)));
      table
          .lineside()
          .crossings()
          .keySet()
          .forEach(id -> probe(Kind.WARNED, id, () -> railway.isWarning(id)));
      table
          .lineside()
          .indicators()
          .forEach(row -> probe(Kind.LIT, row.lamp(), () -> railway.isLit(row.lamp())));
    }

    private void probe(String flagged) {
      var flag = new Condition.IsProtected(flagged, Protected.FLAG, NOWHERE);
      probe(Kind.FLAGGED, flagged, () -> facts.isSo(flag));
    }

    private void probe(Kind kind, String name, BooleanSupplier isTried) {
      if (tried.get(kind).containsKey(name) && !tried.get(kind).get(name)) {
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
        note(probe.kind(), probe.name());
      }
      return isTried;
    }

    /** A person is about to ask for something. */
    void aboutToTell(Command command) {
      lockedBefore =
          command instanceof Command.Cancel cancel
              ? table.routesFrom(cancel.signal()).stream()
                  .map(RouteRow::id)
                  .filter(interlocking::routeLocked)
                  .toList()
              : List.of();
    }

    /** A person has asked for something. */
    void told(Command command, boolean done) {
      somethingChanged = true;
      if (command instanceof Command.OfRoute asked) {
        table.routesFrom(asked.from()).stream()
            .filter(row -> row.to().equals(asked.to()) && !done)
            .forEach(row -> note(Kind.REFUSED, row.id()));
      } else if (command instanceof Command.LineRoute asked) {
        noteIf(!done, Kind.REFUSED, asked.route());
      } else if (command instanceof Command.Cancel) {
        lockedBefore.forEach(route -> noteIf(done, Kind.CANCELLED, route));
      } else if (command instanceof Command.Throw order) {
        noteIf(!done, Kind.HELD, order.switchId());
      } else if (command instanceof Command.ThrowFor order) {
        noteIf(!done, Kind.HELD, order.switchId());
      } else if (command instanceof Command.Release release) {
        noteIf(!done, Kind.LOCKED, release.switchId());
      } else if (command instanceof Command.Unlock unlock) {
        note(done ? Kind.UNLOCKED : Kind.CLOSED, unlock.opening());
      } else if (command instanceof Command.OfProtection order) {
        protectedOrNot(order, done);
      }
    }

    private void protectedOrNot(Command.OfProtection order, boolean done) {
      if (order instanceof Command.Protect) {
        note(Kind.PROTECTION, protection(order) + (done ? GIVEN : NOT_GIVEN));
      } else {
        noteIf(done, Kind.PROTECTION, protection(order) + " ended");
      }
    }

    private static String protection(Command.OfProtection order) {
      if (order instanceof Command.GrantPermit || order instanceof Command.ReturnPermit) {
        return "permit";
      }
      boolean flag = order instanceof Command.Flag || order instanceof Command.Unflag;
      return flag ? "blue flag" : "blocking";
    }

    private void noteIf(boolean so, Kind kind, String name) {
      if (so) {
        note(kind, name);
      }
    }

    /** Something has befallen the railroad, or has been kept from it. */
    void happened(Happening happening, boolean done) {
      somethingChanged = true;
      noteIf(done, Kind.HAPPENED, words(happening.getClass()));
      if (happening instanceof Happening.ButtonIs button && button.pressed()) {
        note(Kind.PRESSED, button.button());
      }
    }
  }
}
