package tappet.bridge.rehearsal;

import java.util.Collection;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Stream;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.rules.ControlTable;
import tappet.rules.OwnersNeed;
import tappet.rules.RouteRow;
import tappet.sentence.Condition;
import tappet.sentence.Happening;

/** What of a railroad's rules the scenarios have tried, and what none of them has. */
public final class Coverage {

  private final Layout layout;
  private final ControlTable table;

  /** By kind: each thing there is to try, and whether it has been tried. */
  private final Map<Tried, Map<String, Boolean>> tried = new EnumMap<>(Tried.class);

  /** Nothing has been tried yet. */
  public Coverage(Layout layout, ControlTable table) {
    this.layout = layout;
    this.table = table;
    for (Tried kind : Tried.values()) {
      tried.put(kind, new LinkedHashMap<>());
    }
    listRoutes();
    listDevices();
    listPeople();
  }

  private void listRoutes() {
    Stream.of(Tried.LINED, Tried.PROCEEDED, Tried.RUN)
        .forEach(kind -> list(kind, table.routes().keySet()));
    List<String> asked =
        table.routes().values().stream().filter(row -> !row.automatic()).map(RouteRow::id).toList();
    list(Tried.REFUSED, asked);
    list(Tried.CANCELLED, asked);
    table
        .lines()
        .values()
        .forEach(
            line ->
                line.signals().entrySet().stream()
                    .filter(way -> !way.getValue().isEmpty())
                    .forEach(way -> list(Tried.TRAFFIC, line.id() + " " + way.getKey().word())));
  }

  private void listDevices() {
    layout.signals().values().forEach(this::listAspects);
    for (String toe : layout.switches().keySet()) {
      for (Position position : Position.values()) {
        list(Tried.LAID, toe + " " + position.word());
      }
    }
    layout.switches().values().stream()
        .filter(toe -> toe.control().hasMotor() && toe.number().equals(toe.id()))
        .forEach(toe -> list(Tried.HELD, toe.id()));
    list(Tried.RELEASED, table.locks().keySet());
    list(Tried.LOCKED, table.locks().keySet());
    layout.lineside().openings().values().stream()
        .filter(opening -> opening.lock().isPresent())
        .forEach(opening -> list(List.of(Tried.UNLOCKED, Tried.CLOSED), opening.id()));
    list(Tried.WARNED, table.lineside().crossings().keySet());
    table.lineside().indicators().forEach(row -> list(Tried.LIT, row.lamp()));
    table.lineside().requests().forEach(row -> list(Tried.PRESSED, row.button()));
  }

  /** The aspects that a signal can show, whether the rules ever make it show them or not. */
  private void listAspects(Signal signal) {
    signal.aspects().forEach(aspect -> list(Tried.ASPECT, signal.id() + " " + aspect));
  }

  private void listPeople() {
    table.flags().forEach(row -> list(Tried.FLAGGED, row.section()));
    needs().keySet().forEach(need -> list(Tried.NEEDED, need));
    for (String protection : List.of("permit", "blocking", "blue flag")) {
      list(Tried.PROTECTION, protection + CoverageFollower.GIVEN);
      list(Tried.PROTECTION, protection + CoverageFollower.NOT_GIVEN);
      list(Tried.PROTECTION, protection + CoverageFollower.ENDED);
    }
    Stream.of(Happening.class.getPermittedSubclasses())
        .filter(Record.class::isAssignableFrom)
        .forEach(kind -> list(Tried.HAPPENED, words(kind)));
  }

  /** What the owner demands, under where it is demanded. */
  Map<String, Condition> needs() {
    Map<String, Condition> needs = new LinkedHashMap<>();
    for (RouteRow row : table.routes().values()) {
      row.needs().ifPresent(condition -> needs.put("route " + row.id(), condition));
    }
    for (OwnersNeed need : table.needs()) {
      needs.put(need.of().word() + " " + need.id() + " at " + need.place(), need.condition());
    }
    return needs;
  }

  private void list(Collection<Tried> kinds, String name) {
    kinds.forEach(kind -> list(kind, name));
  }

  private void list(Tried kind, Collection<String> names) {
    names.forEach(name -> list(kind, name));
  }

  private void list(Tried kind, String name) {
    tried.get(kind).putIfAbsent(name, false);
  }

  /** Only what was listed counts: a scenario may try more than the rules speak of. */
  void note(Tried kind, String name) {
    tried.get(kind).replace(name, true);
  }

  /** Whether there is such a thing to try, and it has not been tried yet. */
  boolean isOpen(Tried kind, String name) {
    return Boolean.FALSE.equals(tried.get(kind).get(name));
  }

  /** {@code MotorSticks} as {@code motor sticks}. */
  static String words(Class<?> happening) {
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

  private static String line(Tried kind, Map<String, Boolean> names) {
    List<String> untried =
        names.entrySet().stream().filter(name -> !name.getValue()).map(Map.Entry::getKey).toList();
    String count =
        "%3d of %3d  %s%n".formatted(names.size() - untried.size(), names.size(), kind.words());
    return untried.isEmpty()
        ? count
        : count + "            not tried: " + String.join(", ", untried) + "\n";
  }

  /** Follows one scenario. */
  CoverageFollower follower(VirtualRailroad railroad, Facts facts) {
    return new CoverageFollower(this, table, railroad, facts);
  }
}
