package tappet.layout;

import tappet.source.Problems;

/** Checks that switches which move together can do so. */
final class PairCheck {

  private final Layout layout;
  private final Problems problems;

  PairCheck(Layout layout, Problems problems) {
    this.layout = layout;
    this.problems = problems;
  }

  void check() {
    layout.switches().values().stream()
        .filter(end -> end.working().with().isPresent())
        .forEach(end -> check(end, layout.switches().get(end.number())));
  }

  private void check(Switch end, Switch lead) {
    if (lead.working().with().isPresent()) {
      note(
          end,
          "switch '%s' moves with '%s', which moves with '%s' itself"
              .formatted(end.id(), lead.id(), lead.number()),
          "write 'with: %s'".formatted(lead.number()));
    }
    if (lead.control() == Control.SPRUNG) {
      note(
          end,
          "switch '%s' is sprung, and nothing moves with it".formatted(lead.id()),
          "give '%s' a control of its own".formatted(end.id()));
    }
    boolean assumesMotor = !end.to().isEmpty() || !end.isDetected();
    if (assumesMotor && !lead.control().hasMotor()) {
      note(
          end,
          "switch '%s' moves with '%s', which is thrown by hand".formatted(end.id(), lead.id()),
          "take out 'to', and give it detection under 'at'");
    }
  }

  private void note(Switch end, String wrong, String meant) {
    problems.add(end.place(), wrong, meant);
  }
}
