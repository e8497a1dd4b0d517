package tappet.bridge.proof;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import tappet.layout.Layout;
import tappet.network.Variable;
import tappet.rules.ControlTable;
import tappet.rules.RouteRow;

/** What is asked for, or happens in one moment: the pulses of a network in sentences. */
final class Requested {

  private final Layout layout;
  private final ControlTable table;
  private final Map<Pattern, Function<MatchResult, Deed>> sayings = new LinkedHashMap<>();

  Requested(Layout layout, ControlTable table) {
    this.layout = layout;
    this.table = table;
    sayOfRoutes();
    sayOfSwitches();
    sayOfPeople();
    sayOfTheWayside();
  }

  private void say(String name, Function<MatchResult, Deed> deed) {
    sayings.put(Pattern.compile(name), deed);
  }

  private void sayOfRoutes() {
    say("route (\\S+): asked", found -> Deed.told("line " + asked(found.group(1))));
    say("route (\\S+): fleet asked", found -> Deed.told("fleet " + ends(found.group(1))));
    say("route (\\S+): stack asked", found -> Deed.told("stack " + ends(found.group(1))));
    say("route (\\S+): call on asked", found -> Deed.told("call on " + ends(found.group(1))));
    say("signal (\\S+): cancelled", found -> Deed.told("cancel " + found.group(1)));
    say("signal (\\S+): unfleeted", found -> Deed.told("unfleet " + found.group(1)));
    say("signal (\\S+): unstacked", found -> Deed.told("unstack " + found.group(1)));
    say(
        "traffic (\\S+): asked (east|west)",
        found -> Deed.told("set traffic " + found.group(1) + " " + found.group(2)));
  }

  /** A route by its own name, or by its ends where it has no other. */
  private String asked(String route) {
    RouteRow row = table.routes().get(route);
    return route.equals(row.from() + "-" + row.to()) ? ends(route) : "route " + route;
  }

  private String ends(String route) {
    RouteRow row = table.routes().get(route);
    return row.from() + " to " + row.to();
  }

  private void sayOfSwitches() {
    say(
        "switch (\\S+): thrown (normal|reverse)",
        found -> Deed.told("throw " + found.group(1) + " " + found.group(2)));
    say(
        "switch (\\S+): thrown (normal|reverse) by the permit's holder",
        found ->
            Deed.told(
                "throw %s %s for %s"
                    .formatted(
                        found.group(1),
                        found.group(2),
                        crew(layout.switches().get(found.group(1)).section()))));
    say("lock (\\S+): release asked", found -> Deed.told("release " + found.group(1)));
    say(
        "lock (\\S+): release asked by the permit's holder",
        found ->
            Deed.told(
                "release %s to %s"
                    .formatted(
                        found.group(1), crew(layout.switches().get(found.group(1)).section()))));
    say("lock (\\S+): secure asked", found -> Deed.told("secure " + found.group(1)));
    say(
        "switch (\\S+): forgotten",
        found -> Deed.unsaid("nobody knows any more where switch " + found.group(1) + " lies"));
    say(
        "lock (\\S+): forgotten",
        found ->
            Deed.unsaid(
                "nobody knows any more whether the lock of switch " + found.group(1) + " holds"));
  }

  private void sayOfPeople() {
    say(
        "section (\\S+): under permit asked",
        found -> Deed.told("grant permit to " + crew(found.group(1)) + " on " + found.group(1)));
    say(
        "section (\\S+): under permit ended",
        found -> Deed.told("return permit of " + crew(found.group(1))));
    say(
        "section (\\S+): flagged asked",
        found -> Deed.told("flag " + found.group(1) + " by " + crew(found.group(1))));
    say(
        "section (\\S+): flagged ended",
        found -> Deed.told("unflag " + found.group(1) + " by " + crew(found.group(1))));
    say(
        "(section|switch|signal) (\\S+): blocked asked",
        found ->
            Deed.told(
                "block %s %s for %s"
                    .formatted(found.group(1), found.group(2), crew(found.group(2)))));
    say(
        "(section|switch|signal) (\\S+): blocked ended",
        found -> Deed.told("unblock " + found.group(1) + " " + found.group(2)));
    say("(.*) restored", found -> Deed.unsaid(found.group(1) + ": stands again after a restart"));
    say("protections: confirmed", found -> Deed.told("confirm protections"));
    say("protections: lost", found -> Deed.unsaid("what was known of protections is lost"));
  }

  private static String crew(String place) {
    return "'Crew at " + place + "'";
  }

  private void sayOfTheWayside() {
    say("opening (\\S+): asked to lock", found -> Deed.told("lock " + found.group(1)));
    say("opening (\\S+): asked to unlock", found -> Deed.told("unlock " + found.group(1)));
    say("spot (\\S+): passed", found -> Deed.befalls("spot " + found.group(1) + " reports passed"));
    say(
        "spot (\\S+): passed (east|west)ward",
        found -> Deed.befalls("spot " + found.group(1) + " reports " + found.group(2)));
    say(
        "emergency (off|stop): (called|cleared)",
        found -> Deed.befalls("emergency " + found.group(1) + " is " + found.group(2)));
    say(
        "button (\\S+): (found|granted|refused)",
        found -> Deed.follows("button " + found.group(1) + " is " + found.group(2)));
  }

  /** What a pulse is in sentences; empty for one that no sentence is about. */
  Optional<Deed> deed(Variable pulse) {
    for (Map.Entry<Pattern, Function<MatchResult, Deed>> saying : sayings.entrySet()) {
      Matcher found = saying.getKey().matcher(pulse.name());
      if (found.matches()) {
        return Optional.of(saying.getValue().apply(found.toMatchResult()));
      }
    }
    return Optional.empty();
  }
}
