package tappet.interlocking;

import static tappet.network.Expression.is;

import java.util.ArrayList;
import java.util.List;
import tappet.network.Expression;
import tappet.rules.RouteRow;

/**
 * What a proceed aspect over a row promises at every moment, whoever has called the signal (49 CFR
 * 236.303, 236.311).
 */
final class Proof {

  private final RouteRow row;
  private final Circuits circuits;

  Proof(RouteRow row, Circuits circuits) {
    this.row = row;
    this.circuits = circuits;
  }

  /** All of it, with every section vacant. */
  List<Expression> proofs() {
    List<Expression> proofs = besidesSections();
    proofs.addAll(vacant(row.path()));
    return proofs;
  }

  /** All of it but the sections of the way. */
  List<Expression> besidesSections() {
    List<Expression> proofs = new ArrayList<>(circuits.noEmergency());
    proofs.addAll(vacant(row.alsoClear()));
    row.switches().forEach((id, at) -> proofs.add(is(circuits.toe(id).inPlace(at))));
    row.flank().forEach((id, at) -> proofs.add(is(circuits.toe(id).inPlace(at))));
    proofs.addAll(locksHold());
    circuits.linesOf(row).forEach((line, heading) -> proofs.add(is(line.lies(heading))));
    proofs.addAll(circuits.signal(row.from()).lamps.proofs(circuits.table.ladderOf(row)));
    proofs.addAll(circuits.lineside.demandsOf(row));
    proofs.addAll(circuits.protections.allow(row));
    proofs.addAll(circuits.ownersNeeds(row));
    return proofs;
  }

  /** That every electric lock on the way holds its switch. */
  List<Expression> locksHold() {
    return row.path().stream()
        .flatMap(section -> circuits.locksIn(section).stream())
        .distinct()
        .<Expression>map(lock -> is(lock.holds))
        .toList();
  }

  /** That each of some sections is vacant. */
  List<Expression> vacant(List<String> sections) {
    return sections.stream()
        .<Expression>map(section -> is(circuits.section(section).vacant))
        .toList();
  }
}
