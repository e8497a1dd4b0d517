package tappet.proof.track;

import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import tappet.layout.Switch;
import tappet.layout.TrackPlan;
import tappet.network.NetworkBuilder;

/** The authorities of all ways, each under watch. */
final class Authorities {

  private final Ways ways;
  private final Map<Way, Authority> byWay = new LinkedHashMap<>();

  Authorities(TrackPlan plan, Plant plant, NetworkBuilder network) {
    this.ways = new Ways(plan);
    ways.all().forEach(way -> byWay.put(way, new Authority(way, plant, network)));
    for (Authority authority : byWay.values()) {
      authority.define(
          Approach.nobodyComesTo(authority.way.from(), plan, plant, byWay.values()),
          plant,
          network);
    }
  }

  Collection<Authority> all() {
    return byWay.values();
  }

  Authority of(Way way) {
    return byWay.get(way);
  }

  /** Those that a signal gives, one a way. */
  List<Authority> from(String signal) {
    return ways.from(signal).stream().map(byWay::get).toList();
  }

  /** Those whose way leads over a switch. */
  List<Authority> over(Switch toe) {
    return byWay.values().stream().filter(authority -> authority.way.leadsOver(toe.id())).toList();
  }
}
