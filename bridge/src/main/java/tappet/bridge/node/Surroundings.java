package tappet.bridge.node;

import java.util.Optional;
import java.util.OptionalInt;
import tappet.lcc.NodeId;
import tappet.lcc.clock.ClockVoice;

/** What those who watch the bus need of the box, and tell it. */
public interface Surroundings extends ClockVoice {

  /** Whether the daemon's node may speak on the bus now. */
  boolean ready();

  /** The node that an alias stands for, as far as it has been heard. */
  Optional<NodeId> nodeOf(int alias);

  /** What people call a node. */
  String nameOf(NodeId node);

  /** What people call the node that an alias stands for, as far as that is known. */
  default String nameOf(int alias) {
    return nodeOf(alias).map(this::nameOf).orElseGet(() -> "a node of alias %03X".formatted(alias));
  }

  /** Something has happened, in an owner's words. */
  void happened(String what);

  /** Something people must see to. */
  void alarm(String what);

  /** It has gone. */
  void alarmOver(String what);

  /** Something people must see to, which goes by itself unless it is told again in time. */
  void alarmFor(String what, long durationNs, long nowNs);

  /** The layout's clock shows another minute of the day, or none is known any more. */
  void minuteShown(OptionalInt minuteOfDay);
}
