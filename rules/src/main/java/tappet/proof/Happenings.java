package tappet.proof;

import java.util.SplittableRandom;
import tappet.network.Stepper;

/** What may happen to a network, in a likely order: it shows which states there are. */
public interface Happenings {

  /** The same for another run, which may go on at the same time. */
  Happenings again();

  /** Lays on how everything lies when nothing has happened yet. */
  void begin(Stepper stepper);

  /** Lays on one more thing that happens. */
  void next(Stepper stepper, SplittableRandom chance);
}
