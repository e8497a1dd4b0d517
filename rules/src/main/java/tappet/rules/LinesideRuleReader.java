package tappet.rules;

import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.layout.Layout;
import tappet.sentence.Command;
import tappet.sentence.Sentences;
import tappet.source.Fields;
import tappet.source.NearNames;
import tappet.source.Place;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/**
 * Reads what the rule file says of lamps and buttons; grade crossings have a reader of their own.
 */
final class LinesideRuleReader {

  private static final Duration SHOWN = Duration.ofSeconds(5);

  private final Layout layout;
  private final Map<String, RouteRow> rows;
  private final ConditionReader conditions;
  private final Problems problems;
  private final Declared declared;

  /** Where each lamp was given its work: it can tell but one thing. */
  private final Map<String, Place> lampsWorked = new LinkedHashMap<>();

  private final Map<String, Place> buttonsRead = new LinkedHashMap<>();

  LinesideRuleReader(
      Layout layout, Map<String, RouteRow> rows, ConditionReader conditions, Problems problems) {
    this.layout = layout;
    this.rows = rows;
    this.conditions = conditions;
    this.problems = problems;
    this.declared = new Declared(problems);
  }

  /** Asks the file for all of them. */
  LinesideTable read(Fields file, CrossingReader crossings) {
    Value indicators =
        file.optional("indicators", "[{lamp: yard-red, when: switch y1 is reverse}]");
    Value requests = file.optional("requests", "[{button: call, asks: line t2e to t4e}]");
    return new LinesideTable(indicators(indicators), requests(requests), crossings.read(file));
  }

  private List<Indicator> indicators(Value written) {
    List<Indicator> indicators = new ArrayList<>();
    for (Value item : written.items()) {
      item.called("the indicator", "{lamp: yard-red, when: switch y1 is reverse}")
          .read(this::indicator)
          .flatMap(indicator -> indicator)
          .ifPresent(indicators::add);
    }
    return indicators;
  }

  private Optional<Indicator> indicator(Fields fields) {
    var lamp = lamp(fields.required("lamp", "yard-red"));
    var when = conditions.read(fields.required("when", "switch y1 is reverse"));
    return lamp.flatMap(id -> when.map(condition -> new Indicator(id, condition, fields.place())));
  }

  private List<ButtonRequest> requests(Value written) {
    List<ButtonRequest> requests = new ArrayList<>();
    for (Value item : written.items()) {
      item.called("the request", "{button: call, asks: line t2e to t4e}")
          .read(this::request)
          .flatMap(request -> request)
          .ifPresent(requests::add);
    }
    return requests;
  }

  private Optional<ButtonRequest> request(Fields fields) {
    var button = fields.required("button", "call");
    var id = declared.name(button, "button", layout.lineside().buttons().keySet());
    id.ifPresent(
        name -> once(buttonsRead, name, button, "button '%s' has its row already, in line %d"));
    var onPress = asked(fields.optional("asks", "line t2e to t4e"));
    var onRelease = asked(fields.optional("on release", "cancel t2e"));
    var granted = lamp(fields.optional("granted", "call-green"));
    var refused = lamp(fields.optional("refused", "call-red"));
    var shown = RuleReader.aboveZero(fields.optional("shown", "5 s")).orElse(SHOWN);
    if (!fields.optional("asks", "").present() && !fields.optional("on release", "").present()) {
      problems.add(
          fields.place(), "this button asks nothing", "add for example 'asks: line t2e to t4e'");
    }
    return id.map(
        name ->
            new ButtonRequest(
                name.value(), onPress, onRelease, granted, refused, shown, fields.place()));
  }

  private Optional<ButtonRequest.Asked> asked(Value written) {
    return written
        .text()
        .flatMap(
            text ->
                Sentences.command(text.value(), text.textPlace(), problems)
                    .filter(command -> canBeAsked(command, text))
                    .map(command -> new ButtonRequest.Asked(text.value(), command)));
  }

  /** Whether a button may ask this, and all that it names is there; notes what is not so. */
  private boolean canBeAsked(Command command, YamlNode.Text text) {
    if (command instanceof Command.OfRoute route) {
      return isSignal(route.from(), route.place()) && isWay(route);
    }
    if (command instanceof Command.LineRoute line) {
      return isRoute(line);
    }
    if (command instanceof Command.Cancel cancel) {
      return isSignal(cancel.signal(), cancel.place());
    }
    if (command instanceof Command.Unfleet unfleet) {
      return isSignal(unfleet.signal(), unfleet.place());
    }
    if (command instanceof Command.Unstack unstack) {
      return isSignal(unstack.signal(), unstack.place());
    }
    return canBeWorked(command, text);
  }

  private boolean canBeWorked(Command command, YamlNode.Text text) {
    if (command instanceof Command.Throw move) {
      return isSwitch(move.switchId(), move.place());
    }
    if (command instanceof Command.Release release) {
      return isSwitch(release.switchId(), release.place());
    }
    if (command instanceof Command.Secure secure) {
      return isSwitch(secure.switchId(), secure.place());
    }
    if (command instanceof Command.Lock lock) {
      return isOpening(lock.opening(), lock.place());
    }
    if (command instanceof Command.Unlock unlock) {
      return isOpening(unlock.opening(), unlock.place());
    }
    if (command instanceof Command.SetTraffic traffic) {
      conditions.lineNamed(traffic.line(), traffic.place());
      return true;
    }
    problems.add(
        text.place(),
        "the interlocking cannot be asked this",
        "a button lines, cancels, throws, locks or unlocks");
    return false;
  }

  private boolean isSignal(String name, Place place) {
    return conditions.isInLayout(name, "signal", layout.signals().keySet(), place);
  }

  private boolean isSwitch(String name, Place place) {
    return conditions.isInLayout(name, "switch", layout.switches().keySet(), place);
  }

  private boolean isOpening(String name, Place place) {
    return conditions.isInLayout(name, "opening", layout.lineside().openings().keySet(), place);
  }

  private boolean isRoute(Command.LineRoute line) {
    if (rows.isEmpty() || rows.containsKey(line.route())) {
      return true;
    }
    problems.add(
        line.place(),
        "this rule file has no route '%s'".formatted(line.route()),
        NearNames.meant(line.route(), rows.keySet(), "write the route's row first"));
    return false;
  }

  private boolean isWay(Command.OfRoute asked) {
    List<String> ends =
        rows.values().stream()
            .filter(row -> row.from().equals(asked.from()))
            .map(RouteRow::to)
            .distinct()
            .toList();
    if (!rows.isEmpty() && !ends.contains(asked.to())) {
      problems.add(
          asked.toPlace(),
          "no route leads from %s to %s".formatted(asked.from(), asked.to()),
          NearNames.meant(asked.to(), ends, "no route starts there"));
      return false;
    }
    return true;
  }

  private Optional<String> lamp(Value written) {
    var lamp = declared.name(written, "lamp", layout.lineside().lamps().keySet());
    lamp.ifPresent(
        name ->
            once(lampsWorked, name, written, "lamp '%s' tells something else already, in line %d"));
    return lamp.map(YamlNode.Text::value);
  }

  private static void once(
      Map<String, Place> earlier, YamlNode.Text name, Value written, String wrong) {
    Place before = earlier.putIfAbsent(name.value(), written.place());
    if (before != null) {
      written.note(wrong.formatted(name.value(), before.line()), "name another one, or join them");
    }
  }
}
