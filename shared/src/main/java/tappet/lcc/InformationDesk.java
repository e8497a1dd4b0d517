package tappet.lcc;

import java.util.Iterator;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import tappet.lcc.Message.OptionalInteractionRejected;
import tappet.lcc.Message.SimpleNodeInformationRequest;

/**
 * Simple node information (S-9.7.4.3): tells it to those who ask, and asks others.
 *
 * <p>A reply of up to 43 frames takes up to 55 ms of the bus, so replies leave 100 ms apart; those
 * who ask meanwhile wait, each for one reply, and more than {@value #ASKERS_MAX} are told to come
 * again. The seventh of those who wait is still answered within 750 ms; whoever asks anew while
 * waiting gets the one reply.
 */
final class InformationDesk {

  static final int ASKERS_MAX = 32;
  static final int ASKED_MAX = 64;
  static final int CONTENT_MAX = 1024;
  static final long APART_NS = 100_000_000L;
  static final long REPLY_NS = 3_000_000_000L;

  private final LccNode.Application application;
  private final Voice voice;
  private final Set<Integer> askers = new LinkedHashSet<>();
  private final Map<Integer, Awaited> asked = new TreeMap<>();
  private boolean told;
  private long nextNs;

  /** What has come of a reply, which may come in several messages (S-9.7.4.3 §6.2). */
  private record Awaited(Bytes content, long untilNs) {}

  InformationDesk(LccNode.Application application, Voice voice) {
    this.application = application;
    this.voice = voice;
  }

  /** Somebody asks. */
  void request(int source, long nowNs) {
    if (askers.size() < ASKERS_MAX || askers.contains(source)) {
      askers.add(source);
      advance(nowNs);
    } else {
      voice.say(
          new OptionalInteractionRejected(
              voice.alias(),
              source,
              ErrorCode.BUFFER_UNAVAILABLE,
              Mti.SIMPLE_NODE_INFORMATION_REQUEST));
    }
  }

  /** Asks another node; false if it has been asked already, or too many have. */
  boolean ask(int destination, long nowNs) {
    if (asked.containsKey(destination) || asked.size() == ASKED_MAX) {
      return false;
    }
    asked.put(destination, new Awaited(Bytes.EMPTY, nowNs + REPLY_NS));
    voice.say(new SimpleNodeInformationRequest(voice.alias(), destination));
    return true;
  }

  /** A whole message of a reply has come. */
  void reply(int source, Bytes content, long nowNs) {
    Awaited awaited = asked.remove(source);
    if (awaited == null) {
      return;
    }
    Bytes soFar = awaited.content().and(content);
    Optional<Identity> identity = Identity.decode(soFar);
    if (identity.isPresent() || soFar.length() > CONTENT_MAX) {
      application.identityTold(source, identity, nowNs);
    } else {
      asked.put(source, new Awaited(soFar, awaited.untilNs()));
    }
  }

  /** The other node will not answer, or is gone. */
  void forget(int alias, long nowNs) {
    askers.remove(alias);
    giveUp(alias, nowNs);
  }

  void giveUp(int alias, long nowNs) {
    if (asked.remove(alias) != null) {
      application.identityTold(alias, Optional.empty(), nowNs);
    }
  }

  void clear(long nowNs) {
    askers.clear();
    Set.copyOf(asked.keySet()).stream().sorted().forEach(alias -> giveUp(alias, nowNs));
  }

  void advance(long nowNs) {
    if (!askers.isEmpty() && (!told || nowNs - nextNs >= 0)) {
      tell(nowNs);
    }
    if (!asked.isEmpty()) {
      giveUpLate(nowNs);
    }
  }

  private void giveUpLate(long nowNs) {
    asked.entrySet().stream()
        .filter(entry -> nowNs - entry.getValue().untilNs() >= 0)
        .map(Map.Entry::getKey)
        .toList()
        .forEach(alias -> giveUp(alias, nowNs));
  }

  /** {@link LccNode#NEVER} if there is none. */
  long deadlineNs() {
    long first = askers.isEmpty() ? LccNode.NEVER : nextNs;
    for (Awaited awaited : asked.values()) {
      first = Math.min(first, awaited.untilNs());
    }
    return first;
  }

  private void tell(long nowNs) {
    Iterator<Integer> first = askers.iterator();
    int destination = first.next();
    first.remove();
    told = true;
    nextNs = nowNs + APART_NS;
    application
        .identity()
        .map(Identity::encode)
        .ifPresent(
            content ->
                AddressedFrames.of(
                        Mti.SIMPLE_NODE_INFORMATION_REPLY, voice.alias(), destination, content)
                    .forEach(voice::say));
  }
}
