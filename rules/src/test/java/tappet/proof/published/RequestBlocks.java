package tappet.proof.published;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import tappet.interlocking.PublishedExample;
import tappet.network.Expression;
import tappet.network.Variable;
import tappet.proof.Property.Kind;
import tappet.proof.Watched;

/**
 * The request blocks of Coq Junction (A. Iliasov and the SafeCap group, sample interlocking data,
 * 2023; schema/routes.csv and data/COQ.*). Three of them are published; the other six are written
 * in the same pattern from the published route data, as the published file tells to.
 */
final class RequestBlocks {

  /** How far the blocks are mended, as under {@code oracle} in their file. */
  enum Version {
    AS_PUBLISHED,
    NAMES_CORRECTED,
    NAMES_CORRECTED_AND_OPPOSING_TESTED
  }

  private static final Pattern SUB_ROUTE = Pattern.compile("U(\\w\\w)-(\\w)(\\w)");

  private final PublishedExample published = PublishedExample.named(PublishedExample.COQ_JUNCTION);
  private final Version version;
  private final Machine machine = new Machine();
  private final Map<String, Variable> set = new LinkedHashMap<>();
  private final Map<String, Variable> locked = new LinkedHashMap<>();
  private final Map<String, Variable> normal = new LinkedHashMap<>();
  private final Map<String, Variable> occupied = new LinkedHashMap<>();

  private RequestBlocks(Version version) {
    this.version = version;
    published
        .data
        .get("switches")
        .forEach(
            points -> {
              String id = PublishedExample.id(points);
              normal.put(id, machine.latchInitiallyTrue("points " + id + ": normal"));
              String section = points.get("section").asText();
              occupied.put(id, machine.input("section " + section + ": occupied"));
            });
    for (JsonNode route : published.routes()) {
      String id = PublishedExample.id(route);
      set.put(id, machine.latch("route " + id + ": set"));
      subRoutes(route)
          .forEach(part -> locked.computeIfAbsent(part, any -> machine.latch(part + ": locked")));
    }
    published.routes().forEach(this::addRequest);
  }

  /** The network of requests alone, with the demand that no two conflicting routes are set. */
  static Watched demandingNoConflict(Version version) {
    RequestBlocks blocks = new RequestBlocks(version);
    blocks.published.publishedConflicts().forEach(blocks::demandNotBoth);
    return blocks.machine.watched();
  }

  /** The network of requests, with the two properties that are published with it. */
  static Watched demandingWhatIsPublished(Version version) {
    RequestBlocks blocks = new RequestBlocks(version);
    blocks.published.routes().forEach(blocks::demandWhatIsPublished);
    return blocks.machine.watched();
  }

  /** What is said of two routes that must not be set together. */
  static String notBoth(Set<String> pair) {
    return String.join(" and ", new TreeSet<>(pair)) + " are not both set";
  }

  private void demandNotBoth(Set<String> pair) {
    List<Expression> both = pair.stream().map(set::get).map(Expression::is).toList();
    machine.demand(Kind.ONE_AUTHORITY, notBoth(pair), not(all(both)));
  }

  private static List<String> subRoutes(JsonNode route) {
    return PublishedExample.texts(route.get("sub_routes"));
  }

  /** "If available and the points can go: set, lock the sub-routes, command the points." */
  private void addRequest(JsonNode route) {
    String id = PublishedExample.id(route);
    List<Expression> needs = new ArrayList<>();
    needs.add(is(machine.event("request " + id)));
    needs.add(not(set.get(id)));
    if (version == Version.NAMES_CORRECTED_AND_OPPOSING_TESTED) {
      subRoutes(route).forEach(part -> needs.add(all(isFree(part), isFree(opposing(part)))));
    }
    positions(route).forEach((points, position) -> needs.add(canGo(points, position)));
    Expression granted = all(needs);
    machine.set(set.get(id), granted);
    subRoutes(route).forEach(part -> machine.set(locked.get(part), granted));
    positions(route).forEach((points, position) -> command(points, position, granted));
  }

  private void command(String points, String position, Expression when) {
    if (position.equals("N")) {
      machine.set(normal.get(points), when);
    } else {
      machine.reset(normal.get(points), when);
    }
  }

  private Expression commanded(String points, String position) {
    return position.equals("N") ? is(normal.get(points)) : not(normal.get(points));
  }

  /** Points that lie right can go; others must be free to move. */
  private Expression canGo(String points, String position) {
    List<Expression> free = new ArrayList<>(List.of(not(occupied.get(points))));
    for (String part : testedFor(points + position)) {
      free.add(isFree(part));
    }
    return any(commanded(points, position), all(free));
  }

  /** The sub-routes that a published row of free points names, right or wrong. */
  private List<String> testedFor(String pointsAndPosition) {
    String row =
        published.data.get("points_free_to_move_as_published").get(pointsAndPosition).asText();
    boolean wrong = version != Version.AS_PUBLISHED && pointsAndPosition.equals("P110N");
    return SUB_ROUTE
        .matcher(wrong ? row.replace("UAC-", "UAD-") : row)
        .results()
        .map(MatchResult::group)
        .toList();
  }

  /** A name that is not declared is read as free: that is one of the published faults. */
  private Expression isFree(String subRoute) {
    Variable lock = locked.get(subRoute);
    return lock == null ? Expression.always() : not(lock);
  }

  private static String opposing(String subRoute) {
    return SUB_ROUTE.matcher(subRoute).replaceFirst("U$1-$3$2");
  }

  /**
   * "Whenever a route is newly set, every sub-route of it is locked", and "whenever a sub-route is
   * newly locked, every point it needs is commanded": a sub-route of two routes needs what the one
   * does that locks it.
   */
  private void demandWhatIsPublished(JsonNode route) {
    String id = PublishedExample.id(route);
    Expression newlySet = newly(set.get(id), id);
    machine.demand(
        Kind.CLEAR_WAY,
        "every sub-route of " + id + " is locked when it is newly set",
        newlySet,
        all(subRoutes(route).stream().map(locked::get).map(Expression::is).toList()));
    List<Expression> right = new ArrayList<>();
    positions(route).forEach((points, position) -> right.add(commanded(points, position)));
    machine.demand(
        Kind.SWITCH_UNDER_AUTHORITY,
        "the points of " + id + " are commanded when its sub-routes are newly locked",
        newlySet,
        all(right));
  }

  /** True in the tick in which a latch has become true. */
  private Expression newly(Variable latch, String what) {
    Variable before = machine.latch("watch: " + what + " before");
    machine.take(before, Expression.always(), is(latch));
    return all(is(latch), not(before));
  }

  private static Map<String, String> positions(JsonNode route) {
    Map<String, String> positions = new LinkedHashMap<>();
    route
        .get("switches")
        .properties()
        .forEach(points -> positions.put(points.getKey(), points.getValue().asText()));
    return positions;
  }
}
