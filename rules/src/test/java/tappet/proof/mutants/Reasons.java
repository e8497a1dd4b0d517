package tappet.proof.mutants;

import static java.util.Map.entry;

import java.util.Map;
import java.util.Optional;
import tappet.proof.mutants.Fault.Kind;
import tappet.proof.mutants.Finding.Verdict;

/** Why some faults are none though they make a difference: by kind, beside the proof of safety. */
final class Reasons {

  private static final Map<Kind, String> OF_SAFE =
      Map.ofEntries(
          entry(
              Kind.APPROACH_LEFT_OUT,
              "the time always runs, so that everything is only held for longer"),
          entry(
              Kind.APPROACH_SHORTENED,
              "a train there has yet to pass the signal before, which tells it to stop at the next"
                  + " one (49 CFR 236.24)"),
          entry(
              Kind.OTHER_SPEED,
              "what the signal shows is proven slow enough for the way and for what lies beyond"),
          entry(
              Kind.WRONG_RUNG,
              "what the signal shows is proven to promise no more than lies beyond"),
          entry(
              Kind.CALL_ON_ADDED,
              "only an aspect by which trains look out for others lets one in (49 CFR 236.308)"),
          entry(Kind.CALL_ON_LEFT_OUT, "fewer trains are let in"),
          entry(
              Kind.SHORT_TIME,
              "nothing that is let go too early is proven to be given to another or moved"),
          entry(
              Kind.AUTOMATIC_LEFT_OUT,
              "the dispatcher lines what followed the traffic, and is proven to be kept from harm"),
          entry(
              Kind.LOCK_APPROACH_SHORTENED,
              "the route of a train there is proven to hold the switch until it has passed"),
          entry(
              Kind.RELEASE_SECTION_LEFT_OUT,
              "the time always runs, so that the switch is only held for longer"),
          entry(
              Kind.CONFLICT_LEFT_OUT,
              "the two routes share no section, and a train stops at the signal at its end (P4)"),
          entry(Kind.LINESIDE_LEFT_OUT, "no train runs by a lamp or a button on the fascia"));

  private static final String OF_SHORT_TIMES =
      "a detector loses no train for so long (P6), and no signal leads over the switch of a lock";

  private Reasons() {}

  static Optional<String> of(Kind kind, Verdict verdict) {
    return switch (verdict) {
      case SAFE -> Optional.ofNullable(OF_SAFE.get(kind));
      case OTHER_TIMES -> Optional.of(OF_SHORT_TIMES);
      default -> Optional.empty();
    };
  }
}
