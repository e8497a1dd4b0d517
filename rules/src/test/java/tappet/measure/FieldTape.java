package tappet.measure;

import java.util.List;
import tappet.interlocking.Input;

/**
 * What an interlocking was told during an operation, and when.
 *
 * @param opening what every device reports at the start
 * @param operation what happens from then on
 */
record FieldTape(List<Moment> opening, List<Moment> operation) {

  FieldTape {
    opening = List.copyOf(opening);
    operation = List.copyOf(operation);
  }

  /** One input at its time. */
  record Moment(long nowNs, Input input) {}

  /** How many of the operation's inputs come from the field; the others are requests. */
  long reports() {
    return operation.stream().filter(moment -> !(moment.input() instanceof Input.Request)).count();
  }
}
