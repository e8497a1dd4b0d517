package tappet.bridge.pages;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import tappet.sentence.Command;

/** What somebody may do. Each may do what those before it may. */
public enum Role {
  VIEWER,
  CREW,
  DISPATCHER,
  OWNER;

  /** The roles that are entered with a PIN. */
  static final List<Role> WITH_PIN = List.of(CREW, DISPATCHER, OWNER);

  /** As it is written. */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** The role of that word; empty where there is none. */
  public static Optional<Role> of(String word) {
    return Arrays.stream(values()).filter(role -> role.word().equals(word)).findFirst();
  }

  boolean includes(Role other) {
    return compareTo(other) >= 0;
  }

  /** The least role that may say a sentence. */
  static Role neededFor(Command command) {
    boolean ofCrew =
        command instanceof Command.Ask
            || command instanceof Command.Withdraw
            || command instanceof Command.ReturnPermit
            || command instanceof Command.Flag
            || command instanceof Command.Unflag
            || command instanceof Command.Secure
            || command instanceof Command.ThrowFor
            || command instanceof Command.NameTrain
            || command instanceof Command.OfTrain;
    return ofCrew ? CREW : DISPATCHER;
  }
}
