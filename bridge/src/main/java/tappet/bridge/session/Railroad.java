package tappet.bridge.session;

import java.util.Optional;
import tappet.sentence.Command;
import tappet.sentence.Happening;
import tappet.simulator.TrainSpec;

/** A railroad on which a session is held: signal box, trains and people's hands. */
public interface Railroad {

  /** How things stand now. */
  Sight look();

  /** Tells the box or an engineer something; empty if done, else why not. */
  Optional<String> tell(Command command);

  /** A crew does something with its hands; empty if done, else why not. */
  Optional<String> happen(Happening happening);

  /** Puts a train on the track; empty if done, else why not. */
  Optional<String> place(TrainSpec train);
}
