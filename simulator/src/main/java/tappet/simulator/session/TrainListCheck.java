package tappet.simulator.session;

import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import tappet.layout.Layout;
import tappet.layout.Section;
import tappet.layout.Switch;
import tappet.simulator.session.ListedTrain.Call;
import tappet.simulator.session.ListedTrain.Named;
import tappet.simulator.session.ListedTrain.Start;
import tappet.source.NearNames;
import tappet.source.Problems;

/** Checks that every name in a train list is one, and that its trains can run as it says. */
final class TrainListCheck {

  private final Layout layout;
  private final TrainList list;
  private final Problems problems;

  TrainListCheck(Layout layout, TrainList list, Problems problems) {
    this.layout = layout;
    this.list = list;
    this.problems = problems;
  }

  void check() {
    Set<String> names = new HashSet<>();
    for (ListedTrain train : list.trains()) {
      if (!names.add(train.name())) {
        problems.add(
            train.place(),
            "there are two trains '%s'".formatted(train.name()),
            "give each its own name");
      }
      check(train);
    }
  }

  private void check(ListedTrain train) {
    checkBeginning(train);
    checkSection(train.to());
    train.calls().forEach(this::check);
    if (train.start() instanceof Start.After after) {
      check(train, after.train());
    }
    if (train.again().isPresent() && !train.canBeginAgain()) {
      problems.add(
          train.place(),
          "'%s' does not come back to where it begins again".formatted(train.name()),
          "write for example 'then: goes back'");
    }
    if (train.again().filter(later -> later.toMinutes() < 1).isPresent()) {
      problems.add(
          train.place(), "a train begins again a minute later or more", "write for example 3 h");
    }
  }

  private void checkBeginning(ListedTrain train) {
    checkSection(train.from());
    Section section = layout.sections().get(train.from().name());
    if (section == null) {
      return;
    }
    if (section.between().isEmpty()) {
      problems.add(
          train.from().place(),
          "section '%s' has switches in it; no train can be put there".formatted(section.id()),
          "begin on plain track");
    } else if (section.lengthMetres() <= train.lengthMetres()) {
      problems.add(
          train.from().place(),
          "a train of %s m does not fit in section '%s', which has %s m"
              .formatted(train.lengthMetres(), section.id(), section.lengthMetres()),
          "shorten the train, or let it begin elsewhere");
    }
  }

  private void check(Call call) {
    checkSection(call.at());
    call.permit().forEach(this::checkSection);
    call.release().ifPresent(this::checkLock);
  }

  private void checkSection(Named named) {
    known("this layout", "section", named, layout.sections().keySet());
  }

  private void checkLock(Named named) {
    List<String> locked =
        layout.switches().values().stream()
            .filter(toe -> toe.lock().isPresent())
            .map(Switch::id)
            .toList();
    known("this layout", "switch with an electric lock", named, locked);
  }

  private void check(ListedTrain train, Named other) {
    List<String> names = list.trains().stream().map(ListedTrain::name).toList();
    if (known("this list", "train", other, names) && waitsForItself(train)) {
      problems.add(
          other.place(),
          "'%s' waits for itself in the end".formatted(train.name()),
          "let one of the trains begin at a time");
    }
  }

  private boolean waitsForItself(ListedTrain train) {
    Set<String> seen = new HashSet<>();
    Optional<ListedTrain> next = Optional.of(train);
    while (next.isPresent() && seen.add(next.get().name())) {
      next =
          next.flatMap(
              waiting ->
                  waiting.start() instanceof Start.After after
                      ? train(after.train().name())
                      : Optional.empty());
    }
    return next.filter(train::equals).isPresent();
  }

  private Optional<ListedTrain> train(String name) {
    return list.trains().stream().filter(train -> train.name().equals(name)).findFirst();
  }

  private boolean known(String where, String kind, Named named, Collection<String> names) {
    boolean known = names.contains(named.name());
    if (!known) {
      problems.add(
          named.place(),
          "%s has no %s '%s'".formatted(where, kind, named.name()),
          NearNames.meant(named.name(), names, "it has none at all"));
    }
    return known;
  }
}
