package tappet.proof.track;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import tappet.layout.Signal;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.network.Expression;

/**
 * Whether a train can come to a signal without passing another one that faces it: from the section
 * in rear of it, from further back on the authority of the signal before, or over track where no
 * signal stands.
 */
final class Approach {

  private final Signal signal;
  private final TrackPlan plan;
  private final Plant plant;
  private final List<Authority> toSignal;
  private final Set<Track> seen = new LinkedHashSet<>();
  private final List<Expression> nobody = new ArrayList<>();

  private Approach(Signal signal, TrackPlan plan, Plant plant, Collection<Authority> authorities) {
    this.signal = signal;
    this.plan = plan;
    this.plant = plant;
    this.toSignal =
        authorities.stream()
            .filter(authority -> authority.way.next().filter(signal::equals).isPresent())
            .toList();
  }

  /** That no train is where it can come to a signal. */
  static Expression nobodyComesTo(
      Signal signal, TrackPlan plan, Plant plant, Collection<Authority> authorities) {
    Approach approach = new Approach(signal, plan, plant, authorities);
    inRearOf(signal, plan).forEach(back -> approach.follow(back, signal.at(), List.of()));
    return all(approach.nobody);
  }

  /** The tracks over which a train comes right up to a signal. */
  static List<Track> inRearOf(Signal signal, TrackPlan plan) {
    return plan.into(signal.at(), signal.into()).stream()
        .flatMap(ahead -> plan.onwards(ahead, signal.at()).stream())
        .distinct()
        .toList();
  }

  /**
   * @param blocking what keeps a train from coming over this track
   */
  private void follow(Track back, String from, List<Expression> blocking) {
    if (!seen.add(back)) {
      return;
    }
    List<Expression> blocked = new ArrayList<>(blocking);
    back.leg().ifPresent(leg -> blocked.add(plant.lies(leg.switchId(), leg.position().opposite())));
    nobody.add(nobodyComesFrom(back, from, blocked));
    String joint = back.otherEnd(from);
    boolean signalled =
        plan.signalsAt(joint).stream()
            .anyMatch(before -> before.repeats().isEmpty() && before.into().equals(back.section()));
    if (!signalled) {
      plan.onwards(back, joint).forEach(further -> follow(further, joint, blocked));
    }
  }

  private Expression nobodyComesFrom(Track track, String end, List<Expression> blocked) {
    Expression clear = plant.clear(track.section());
    if (end.equals(signal.at())) {
      return clear;
    }
    List<Expression> due =
        toSignal.stream()
            .filter(authority -> authority.way.sections().contains(track.section()))
            .<Expression>map(authority -> is(authority.due(track.section())))
            .toList();
    return due.isEmpty() ? any(join(clear, blocked)) : any(clear, not(any(due)));
  }

  private static List<Expression> join(Expression one, List<Expression> more) {
    List<Expression> all = new ArrayList<>(more);
    all.add(one);
    return all;
  }
}
