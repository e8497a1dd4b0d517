package tappet.lcc;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import tappet.lcc.Message.DatagramReceivedOk;
import tappet.lcc.Message.DatagramRejected;

/**
 * Datagrams in both directions (S-9.7.3.2): each one that comes goes to the service whose content
 * id it begins with, and gets one answer; the service's reply follows as a datagram.
 */
final class DatagramDesk implements DatagramReceiver.Handler {

  private static final int NO_CONTENT_ID = -1;

  private final Voice voice;
  private final Map<Integer, DatagramService> services = new LinkedHashMap<>();
  private final DatagramReceiver receiver = new DatagramReceiver(this);
  private final DatagramSender sender;
  private long nowNs;

  DatagramDesk(List<DatagramService> services, Voice voice) {
    this.voice = voice;
    this.sender = new DatagramSender(voice);
    services.forEach(service -> this.services.put(service.contentId(), service));
    services.forEach(DatagramService::reset);
  }

  /** Whether the node takes datagrams at all. */
  boolean isServed() {
    return !services.isEmpty();
  }

  /** The flags of all protocols spoken here. */
  int protocols() {
    return services.values().stream()
        .mapToInt(DatagramService::protocols)
        .reduce(0, (flags, more) -> flags | more);
  }

  boolean send(int destination, Bytes content, Consumer<DatagramOutcome> outcome, long nowNs) {
    return sender.send(destination, content, outcome, nowNs);
  }

  /** A datagram frame for this node. */
  void receive(CanFrame frame, long nowNs) {
    this.nowNs = nowNs;
    receiver.receive(frame, nowNs);
  }

  void receivedOk(DatagramReceivedOk answer, long nowNs) {
    sender.receivedOk(answer.source(), answer.flags(), nowNs);
  }

  void rejected(int source, int errorCode, long nowNs) {
    sender.rejected(source, errorCode, nowNs);
  }

  /** The other node has given up its alias, or started anew: what was under way is void. */
  void forget(int alias) {
    receiver.forget(alias);
    sender.forget(alias);
  }

  void clear() {
    receiver.clear();
    sender.clear();
  }

  void advance(long nowNs) {
    sender.advance(nowNs);
  }

  /** {@link LccNode#NEVER} if there is none. */
  long deadlineNs() {
    return sender.deadlineNs();
  }

  @Override
  public void whole(int source, Bytes content) {
    int contentId = content.length() == 0 ? NO_CONTENT_ID : content.at(0);
    DatagramService service = services.get(contentId);
    if (service == null) {
      broken(source, ErrorCode.DATAGRAM_UNKNOWN);
    } else if (!sender.hasRoom(source)) {
      broken(source, ErrorCode.BUFFER_UNAVAILABLE);
    } else {
      answer(source, service.receive(source, content, nowNs));
    }
  }

  @Override
  public void broken(int source, int errorCode) {
    voice.say(new DatagramRejected(voice.alias(), source, errorCode));
  }

  private void answer(int source, DatagramAnswer answer) {
    if (answer.errorCode().isPresent()) {
      broken(source, answer.errorCode().get());
      return;
    }
    int flags = answer.reply().isPresent() ? DatagramReceivedOk.REPLY_PENDING : 0;
    voice.say(new DatagramReceivedOk(voice.alias(), source, flags));
    answer.reply().ifPresent(reply -> sender.send(source, reply, outcome -> {}, nowNs));
    answer.afterwards().ifPresent(Runnable::run);
  }
}
