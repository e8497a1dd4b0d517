package tappet.bridge.node;

import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.Message;
import tappet.lcc.Messages;
import tappet.lcc.NodeId;

/**
 * Tells people what nodes tell by events that mean the same everywhere. Emergencies are no matter
 * for it: they are the interlocking's.
 */
public final class NoticeWatch {

  /** A brown-out is over when nobody has told of it for so long: none tells of its end. */
  public static final long PASSING_NS = 60_000_000_000L;

  /** So many nodes are waited for until they start anew; what further ones tell passes. */
  static final int AWAITED_MAX = 64;

  private static final long ROUTED = Notice.LOG_ENTRY.event().allocatedBy().value();
  private static final long WELL_KNOWN = Notice.DUPLICATE_ID.event().allocatedBy().value();
  private static final int NODE_ID_BYTES = 6;

  private final Surroundings surroundings;
  private final Map<EventId, Notice> notices = new LinkedHashMap<>();
  private final Map<NodeId, String> untilRestart = new LinkedHashMap<>();

  public NoticeWatch(Surroundings surroundings) {
    this.surroundings = surroundings;
    Arrays.stream(Notice.values()).forEach(notice -> notices.put(notice.event(), notice));
  }

  /** The events it acts on. */
  public List<EventId> consumed() {
    return List.copyOf(notices.keySet());
  }

  /** Takes every frame of the bus; one that tells nothing costs no garbage. */
  public void hear(CanFrame frame, long nowNs) {
    if (mayTell(frame) && Messages.decode(frame) instanceof Message.EventReport report) {
      Optional.ofNullable(notices.get(report.event()))
          .ifPresent(notice -> take(notice, report.source(), nowNs));
    } else if (!untilRestart.isEmpty() && frame.length() == NODE_ID_BYTES) {
      watchForRestart(Messages.decode(frame));
    }
  }

  private static boolean mayTell(CanFrame frame) {
    return frame.length() == CanFrame.LENGTH_MAX
        && (frame.data() >>> 16 == ROUTED || frame.data() >>> 16 == WELL_KNOWN);
  }

  private void take(Notice notice, int alias, long nowNs) {
    String told = notice.toldBy(surroundings.nameOf(alias));
    Optional<NodeId> teller = surroundings.nodeOf(alias);
    if (notice.weight() == Notice.Weight.NEWS) {
      surroundings.happened(told);
    } else if (notice.weight() == Notice.Weight.ALARM_UNTIL_RESTART
        && teller.filter(this::canBeAwaited).isPresent()) {
      untilRestart.put(teller.get(), told);
      surroundings.alarm(told);
    } else {
      surroundings.alarmFor(told, PASSING_NS, nowNs);
    }
  }

  private boolean canBeAwaited(NodeId teller) {
    return untilRestart.size() < AWAITED_MAX || untilRestart.containsKey(teller);
  }

  private void watchForRestart(Message message) {
    if (message instanceof Message.InitializationComplete complete) {
      Optional.ofNullable(untilRestart.remove(complete.node())).ifPresent(surroundings::alarmOver);
    }
  }
}
