package tappet.bridge.node;

import java.util.List;
import tappet.interlocking.Answer;
import tappet.network.Explanation;
import tappet.sentence.Command;

/** The layout has no clock. */
record NoClock() implements LayoutClock {

  private static final String HOW_TO =
      "the settings have none; add for example 'clock: {mode: run, rate: 2, time: 06:00}'";

  @Override
  public boolean exists() {
    return false;
  }

  @Override
  public Answer tell(Command.OfClock order, long nowNs) {
    return new Answer(false, why(nowNs));
  }

  @Override
  public Explanation why(long nowNs) {
    return new Explanation("this layout has no clock", List.of(Explanation.fact(HOW_TO)));
  }
}
