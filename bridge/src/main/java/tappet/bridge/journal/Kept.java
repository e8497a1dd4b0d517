package tappet.bridge.journal;

import tappet.bridge.record.Item;
import tappet.interlocking.Output;

/** One thing that the journal keeps. */
sealed interface Kept {

  /** What the box took in or said: enough for another box to live through it. */
  record Taken(Item item) implements Kept {}

  /** A frame that came in. */
  record Heard(String connection, Item.Heard frame) implements Kept {}

  /** The field was to do something. */
  record Ordered(Output output) implements Kept {}

  /** Something changed, in the owner's words. */
  record Changed(String what) implements Kept {}

  /** Other files of the owner have taken over, and run from here on. */
  record RunsBy(OwnerFile layout, OwnerFile rules) implements Kept {

    String words() {
      return layout.named() + " and " + rules.named() + " run now";
    }
  }

  /** An alarm came up, or went. */
  record Alarm(String what, boolean stands) implements Kept {}

  /**
   * Somebody wrote something on the chart or told a simulated train something: the box is not
   * asked.
   *
   * @param seen whether an alarm was acknowledged
   */
  record Written(String who, String sentence, boolean seen, boolean done, String words)
      implements Kept {}
}
