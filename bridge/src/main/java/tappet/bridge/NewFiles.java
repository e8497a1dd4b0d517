package tappet.bridge;

import java.io.IOException;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;
import tappet.bridge.reload.Edition;
import tappet.bridge.reload.Follower;
import tappet.bridge.reload.OwnersDesk;
import tappet.bridge.reload.ProofProcess;
import tappet.interlocking.Interlocking;
import tappet.layout.Layout;
import tappet.source.Problem;
import tappet.source.Problems;

/**
 * Layout and rules as they are on the disk now, for a daemon that runs. Its settings are read at a
 * start only, and so are the layout that is simulated and the heartbeat.
 */
final class NewFiles implements OwnersDesk {

  private final Settings settings;
  private final BoxRoom room;
  private final Layout first;
  private final Supplier<List<Follower>> people;

  /**
   * @param first what runs at first
   * @param people all who tell people of an edition that has taken over
   */
  NewFiles(Settings settings, BoxRoom room, Edition first, Supplier<List<Follower>> people) {
    this.settings = settings;
    this.room = room;
    this.first = first.interlocking().layout();
    this.people = people;
  }

  @Override
  public Reading read() {
    Problems problems = new Problems();
    Optional<OwnerFiles.Railroad> railroad =
        new OwnerFiles(problems).railroad(settings.layout(), settings.rules());
    railroad.ifPresent(read -> settings.checkTerritories(read.layout(), problems));
    List<String> told = problems.sorted().stream().map(Problem::toString).toList();
    if (railroad.isEmpty() || !problems.none()) {
      return new Reading(told, Optional.empty());
    }
    Optional<String> atAStart = readAtAStart(railroad.get().layout());
    if (atAStart.isPresent()) {
      return new Reading(
          List.of(settings.layout() + ": " + atAStart.get() + "; restart the daemon"),
          Optional.empty());
    }
    return new Reading(told, Optional.of(edition(railroad.get())));
  }

  private Optional<String> readAtAStart(Layout next) {
    if (settings.simulates() && !next.saysTheSameAs(first)) {
      return Optional.of("the layout has changed, and the simulated one is built at a start");
    }
    return next.heartbeat().equals(first.heartbeat())
        ? Optional.empty()
        : Optional.of("the heartbeat has changed, which begins at a start");
  }

  private Edition edition(OwnerFiles.Railroad railroad) {
    Interlocking interlocking = room.views().charted(railroad.compiled());
    return new Edition(railroad.files(), interlocking, railroad.standing());
  }

  @Override
  public ProofProcess prove(Edition edition) throws IOException {
    return ProofProcess.begin(ProofProcess.command(Tappet.class.getName(), edition));
  }

  @Override
  public List<Follower> inTheBox() {
    return room.followers();
  }

  @Override
  public List<Follower> besideTheBox() {
    return people.get();
  }
}
