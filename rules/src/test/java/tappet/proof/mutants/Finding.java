package tappet.proof.mutants;

import java.util.Optional;

/**
 * What became of a fault.
 *
 * @param detail the mistake that was told, the property that was broken, or what was not proven
 */
record Finding(SoundRailroad railroad, Fault fault, Verdict verdict, String detail) {

  /** What can become of a fault. */
  enum Verdict {
    /** The check refuses the file. */
    REFUSED("refused"),
    /** A story that the network plays breaks a property. */
    DISPROVEN("disproven"),
    /** The field is told the same for ever. */
    EQUIVALENT("equivalent"),
    /** The field is told the same for ever as if some commands were never given. */
    LACKS_COMMANDS("lacks commands"),
    /** It differs in times only, which no property is about. */
    OTHER_TIMES("other times"),
    /** It differs, and every property is proven of it too. */
    SAFE("safe"),
    /** There is neither proof nor story. */
    UNPROVEN("unproven");

    private final String words;

    Verdict(String words) {
      this.words = words;
    }

    /** Whether nothing more need be said of it. */
    boolean isCaught() {
      return switch (this) {
        case REFUSED, DISPROVEN, EQUIVALENT, LACKS_COMMANDS -> true;
        case OTHER_TIMES, SAFE, UNPROVEN -> false;
      };
    }

    @Override
    public String toString() {
      return words;
    }
  }

  /** Whether the fault has been caught, or there is a reason why nothing is wrong with it. */
  boolean isAccountedFor() {
    return verdict.isCaught() || reason().isPresent();
  }

  /** Why a fault that nothing has caught is none, where there is a reason. */
  Optional<String> reason() {
    return Reasons.of(fault.kind(), verdict);
  }

  @Override
  public String toString() {
    return railroad.name()
        + ": "
        + fault
        + " ("
        + verdict
        + ")"
        + (detail.isEmpty() ? "" : ": " + detail);
  }
}
