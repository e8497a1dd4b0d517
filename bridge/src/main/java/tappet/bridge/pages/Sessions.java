package tappet.bridge.pages;

import java.security.SecureRandom;
import java.time.Duration;
import java.util.Base64;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;

/** Who has entered, until they leave or have not been heard of for long. */
final class Sessions {

  /** A session that nobody uses ends after this. */
  static final Duration IDLE = Duration.ofHours(12);

  private static final int SESSIONS_MAX = 200;
  private static final int KEY_BYTES = 18;

  private static final class Held {
    private Session session;
    private long usedNs;
  }

  private final SecureRandom chance = new SecureRandom();
  private final Map<String, Held> byKey = new LinkedHashMap<>();

  /** The session of a key; empty if there is none, or no more. */
  Optional<Session> find(String key, long nowNs) {
    Held held = byKey.get(key);
    if (held == null) {
      return Optional.empty();
    }
    if (nowNs - held.usedNs > IDLE.toNanos()) {
      byKey.remove(key);
      return Optional.empty();
    }
    held.usedNs = nowNs;
    return Optional.of(held.session);
  }

  /** Somebody enters. */
  Session begin(Role role, String name, Optional<String> territory, long nowNs) {
    if (byKey.size() >= SESSIONS_MAX) {
      dropOldest();
    }
    Held held = new Held();
    held.session = new Session(random(), random(), role, name, territory);
    held.usedNs = nowNs;
    byKey.put(held.session.key(), held);
    return held.session;
  }

  private void dropOldest() {
    Iterator<String> oldest = byKey.keySet().iterator();
    oldest.next();
    oldest.remove();
  }

  private String random() {
    byte[] bytes = new byte[KEY_BYTES];
    chance.nextBytes(bytes);
    return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
  }

  void end(Session session) {
    byKey.remove(session.key());
  }

  /** Gives a session another territory. */
  Session move(Session session, Optional<String> territory) {
    Held held = byKey.get(session.key());
    held.session = session.in(territory);
    return held.session;
  }

  /**
   * The other dispatcher who holds a territory, or one of those that make up the whole; empty where
   * it is free.
   */
  Optional<Session> holder(Optional<String> territory, Session besides, long nowNs) {
    return byKey.values().stream()
        .filter(held -> nowNs - held.usedNs <= IDLE.toNanos())
        .map(held -> held.session)
        .filter(session -> session.role() == Role.DISPATCHER)
        .filter(session -> !session.key().equals(besides.key()))
        .filter(session -> overlap(session.territory(), territory))
        .findFirst();
  }

  private static boolean overlap(Optional<String> one, Optional<String> other) {
    return one.isEmpty() || other.isEmpty() || one.equals(other);
  }
}
