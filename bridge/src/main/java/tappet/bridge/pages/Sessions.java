package tappet.bridge.pages;

import java.security.SecureRandom;
import java.time.Duration;
import java.util.Base64;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Who has entered, until they leave or have not been heard of for long. */
final class Sessions {

  /** A session that nobody uses ends after this. */
  static final Duration IDLE = Duration.ofHours(12);

  /** So many at once; the one that was used longest ago ends for another. */
  static final int SESSIONS_MAX = 200;

  private static final int KEY_BYTES = 18;

  private static final class Held {
    private Session session;
    private long usedNs;

    boolean hasEnded(long nowNs) {
      return nowNs - usedNs > IDLE.toNanos();
    }
  }

  private final SecureRandom chance = new SecureRandom();

  /** In the order in which they were used, the last one last. */
  private final Map<String, Held> byKey = new LinkedHashMap<>();

  /** The session of a key; empty if there is none, or no more. */
  Optional<Session> find(String key, long nowNs) {
    return Optional.ofNullable(byKey.get(key))
        .filter(held -> !held.hasEnded(nowNs))
        .map(held -> held.session);
  }

  /** The same, which lasts for as long again. */
  Optional<Session> use(String key, long nowNs) {
    Optional<Session> found = find(key, nowNs);
    Held held = byKey.remove(key);
    if (found.isPresent()) {
      held.usedNs = nowNs;
      byKey.put(key, held);
    }
    return found;
  }

  /** Somebody enters. */
  Session begin(Role role, String name, Optional<String> territory, long nowNs) {
    if (byKey.size() >= SESSIONS_MAX) {
      dropLeastRecentlyUsed();
    }
    Held held = new Held();
    held.session = new Session(random(), random(), role, name, territory);
    held.usedNs = nowNs;
    byKey.put(held.session.key(), held);
    return held.session;
  }

  private void dropLeastRecentlyUsed() {
    Iterator<String> first = byKey.keySet().iterator();
    first.next();
    first.remove();
  }

  private String random() {
    byte[] bytes = new byte[KEY_BYTES];
    chance.nextBytes(bytes);
    return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
  }

  /** The session of a key ends, if there is one. */
  void end(String key) {
    byKey.remove(key);
  }

  /** Gives a session another territory. */
  Session move(Session session, Optional<String> territory) {
    Held held = byKey.get(session.key());
    held.session = session.in(territory);
    return held.session;
  }

  /** The dispatchers who hold a territory, or one of those that make up the whole. */
  List<Session> holders(Optional<String> territory, long nowNs) {
    return byKey.values().stream()
        .filter(held -> !held.hasEnded(nowNs))
        .map(held -> held.session)
        .filter(session -> session.role() == Role.DISPATCHER)
        .filter(session -> overlap(session.territory(), territory))
        .toList();
  }

  private static boolean overlap(Optional<String> one, Optional<String> other) {
    return one.isEmpty() || other.isEmpty() || one.equals(other);
  }
}
