package tappet.bridge.pages;

import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.function.Supplier;
import tappet.bridge.view.Sight;
import tappet.layout.Layout;
import tappet.rules.ControlTable;
import tappet.sentence.Command;
import tappet.sentence.Protected;

/** Who may say what about which part of the railroad. Without territories a dispatcher has all. */
public final class Territories {

  private final Layout layout;
  private final ControlTable table;
  private final Map<String, List<String>> placesOf;
  private final Map<String, String> territoryOfSection = new LinkedHashMap<>();

  /**
   * @param placesOf the places of each territory
   */
  public Territories(Layout layout, ControlTable table, Map<String, List<String>> placesOf) {
    this.layout = layout;
    this.table = table;
    this.placesOf = placesOf;
    placesOf.forEach((territory, places) -> places.forEach(place -> note(territory, place)));
  }

  private void note(String territory, String place) {
    layout
        .places()
        .get(place)
        .sections()
        .forEach(section -> territoryOfSection.put(section, territory));
  }

  Set<String> names() {
    return placesOf.keySet();
  }

  /**
   * Why somebody of a role who has a territory, or the whole railroad, may not say a sentence;
   * empty where they may.
   *
   * @param sight looks at the railroad: which sections a permit is on is not in the sentence that
   *     returns it
   */
  public CompletableFuture<Optional<String>> whyNot(
      Role role, Optional<String> own, Command command, Supplier<CompletableFuture<Sight>> sight) {
    Role needed = Role.neededFor(command);
    if (!role.includes(needed)) {
      return now(Optional.of("that is for the " + needed.word() + " to say; ask for it"));
    }
    return role == Role.DISPATCHER && own.isPresent()
        ? outside(own.get(), command, sight)
        : now(Optional.empty());
  }

  private static CompletableFuture<Optional<String>> now(Optional<String> whyNot) {
    return CompletableFuture.completedFuture(whyNot);
  }

  private CompletableFuture<Optional<String>> outside(
      String own, Command command, Supplier<CompletableFuture<Sight>> sight) {
    if (command instanceof Command.ConfirmProtections) {
      return now(Optional.of("that is about the whole railroad, and yours is " + own));
    }
    if (command instanceof Command.ReturnPermit end) {
      return sight.get().thenApply(seen -> outside(own, seen.permitOf(end.holder())));
    }
    return now(outside(own, sections(command)));
  }

  private Optional<String> outside(String own, Collection<String> sections) {
    return sections.stream()
        .filter(layout.sections()::containsKey)
        .map(section -> territoryOfSection.getOrDefault(section, ""))
        .filter(territory -> !territory.equals(own))
        .findFirst()
        .map(other -> words(other, own));
  }

  private static String words(String other, String own) {
    return other.isEmpty()
        ? "that lies in no territory, and yours is " + own
        : "that lies in territory " + other + ", and yours is " + own;
  }

  /** The sections that a sentence is about. */
  private Set<String> sections(Command command) {
    Set<String> sections = new LinkedHashSet<>();
    if (command instanceof Command.OfRoute route) {
      addSignal(route.from(), sections);
    } else if (command instanceof Command.LineRoute line) {
      Optional.ofNullable(table.routes().get(line.route()))
          .ifPresent(row -> addSignal(row.from(), sections));
    } else if (command instanceof Command.Unfleet unfleet) {
      addSignal(unfleet.signal(), sections);
    } else if (command instanceof Command.Unstack unstack) {
      addSignal(unstack.signal(), sections);
    } else if (command instanceof Command.Cancel cancel) {
      addSignal(cancel.signal(), sections);
    } else if (command instanceof Command.SetTraffic traffic) {
      Optional.ofNullable(table.lines().get(traffic.line()))
          .ifPresent(line -> sections.addAll(line.sections()));
    } else if (command instanceof Command.Throw move) {
      addSwitch(move.switchId(), sections);
    } else if (command instanceof Command.ThrowFor move) {
      addSwitch(move.switchId(), sections);
    } else if (command instanceof Command.Release release) {
      addSwitch(release.switchId(), sections);
    } else if (command instanceof Command.Secure secure) {
      addSwitch(secure.switchId(), sections);
    } else if (command instanceof Command.Lock lock) {
      addOpening(lock.opening(), sections);
    } else if (command instanceof Command.Unlock unlock) {
      addOpening(unlock.opening(), sections);
    } else if (command instanceof Command.OfProtection) {
      addProtected(command, sections);
    } else if (!isOfNoPlace(command)) {
      throw new IllegalArgumentException("where is that: " + command.words());
    }
    return sections;
  }

  /** What is only told or written on the chart, runs a simulated train, or is the clock's. */
  private static boolean isOfNoPlace(Command command) {
    return command instanceof Command.OfChart
        || command instanceof Command.OfTrain
        || command instanceof Command.OfClock;
  }

  /** Putting up a blue flag is held back nowhere: it only protects. */
  private void addProtected(Command command, Set<String> sections) {
    if (command instanceof Command.GrantPermit permit) {
      sections.addAll(permit.sections());
    } else if (command instanceof Command.Block block) {
      addDevice(block.device(), block.id(), sections);
    } else if (command instanceof Command.Unblock unblock) {
      addDevice(unblock.device(), unblock.id(), sections);
    } else if (command instanceof Command.Unflag unflag) {
      sections.add(unflag.section());
    } else if (!(command instanceof Command.Flag)) {
      throw new IllegalArgumentException("who is protected where: " + command.words());
    }
  }

  private void addDevice(Protected.Device device, String id, Set<String> sections) {
    switch (device) {
      case SIGNAL -> addSignal(id, sections);
      case SWITCH -> addSwitch(id, sections);
      case SECTION -> sections.add(id);
    }
  }

  private void addSignal(String id, Set<String> sections) {
    Optional.ofNullable(layout.signals().get(id)).ifPresent(it -> sections.add(it.into()));
  }

  private void addSwitch(String id, Set<String> sections) {
    Optional.ofNullable(layout.switches().get(id)).ifPresent(it -> sections.add(it.section()));
  }

  private void addOpening(String id, Set<String> sections) {
    Optional.ofNullable(layout.lineside().openings().get(id))
        .ifPresent(it -> sections.addAll(it.sections()));
  }
}
