package tappet.interlocking;

import java.util.List;
import java.util.Optional;

/**
 * What one input brought about.
 *
 * @param outputs what the field is to do, signals that are put to Stop first
 * @param changes what changed, in the owner's words, in order
 * @param answer the answer, where the input was a request
 */
public record Step(List<Output> outputs, List<String> changes, Optional<Answer> answer) {
  public Step {
    outputs = List.copyOf(outputs);
    changes = List.copyOf(changes);
  }
}
