package tappet.interlocking;

import java.util.Optional;
import tappet.layout.Control;
import tappet.layout.Position;
import tappet.layout.Switch;
import tappet.network.Words;

/** Who throws a switch, in words. */
final class ThrownBy {

  private ThrownBy() {}

  /** Who throws it; empty where the dispatcher does. */
  static Optional<String> another(Switch toe) {
    return switch (toe.control()) {
      case DISPATCHER -> Optional.empty();
      case LOCAL -> Optional.of("it is thrown from the control beside the track");
      case RELEASED -> Optional.of("it is thrown by hand when it is released");
      case HAND -> Optional.of("it is thrown by hand");
      case SPRUNG -> Optional.of("it is sprung, and thrown by hand");
    };
  }

  /** What is said where a route cannot have it in a position. */
  static Words wordsBlocked(Switch toe, Position position) {
    String name = Naming.toe(toe);
    String word = position.word();
    return toe.control() == Control.DISPATCHER
        ? Words.because(name + " cannot be thrown " + word, name + " can be thrown " + word)
        : Words.because(
            name + " must lie " + word + ", and " + another(toe).orElseThrow(),
            name + " lies " + word);
  }
}
