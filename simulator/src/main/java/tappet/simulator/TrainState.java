package tappet.simulator;

import java.util.List;
import java.util.Optional;
import tappet.sentence.Command;

/**
 * What a train does at one moment.
 *
 * @param name the train's name
 * @param activity what it is doing
 * @param waitsFor the signal at Stop that holds it, where one does
 * @param heading which way it runs, or would run
 * @param speedMetresPerSecond its present speed, 0 when it stands
 * @param sections the sections under it, the rear one first
 * @param nextJoint the joint before its head
 * @param metresToJoint how far its head is from there
 * @param hasEngine whether it has an engine; a cut of cars has none
 * @param cars how many cars it has besides; a train of a layout that does not say how long a car is
 *     is all one piece
 * @param foulOf the joint that it stands over, or the switch whose other leg it is in the way of
 */
public record TrainState(
    String name,
    Activity activity,
    Optional<String> waitsFor,
    Command.Heading heading,
    double speedMetresPerSecond,
    List<String> sections,
    String nextJoint,
    double metresToJoint,
    boolean hasEngine,
    int cars,
    Optional<String> foulOf) {

  /** What a train can be doing. */
  public enum Activity {
    /** It stands and waits to be told to run. */
    STANDING,
    /** It runs, or is about to start or to come to a stand. */
    RUNNING,
    /** It stands before a signal at Stop and goes on by itself. */
    WAITING_AT_SIGNAL,
    /** It stands short of another train, which its engineer saw at restricted speed. */
    WAITING_BEHIND_TRAIN,
    /** It stands where the track ends. */
    AT_END_OF_TRACK,
    /** It has come to grief and stays where it is until it is lifted. */
    WRECKED
  }
}
