package tappet.bridge.box;

import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import java.util.Set;
import java.util.function.Predicate;

/** The alarms that stand, and who is told when they come and go. */
final class Alarms {

  /** So many that go by themselves are told one by one: what tells of them may be anybody. */
  static final int PASSING_MAX = 64;

  private static final String OTHERS =
      "there are more alarms of this kind than are told one by one";

  private final BoxListener listener;
  private final Set<String> ofTheBox = new LinkedHashSet<>();
  private final Set<String> untilAnswered = new LinkedHashSet<>();
  private final Map<String, Long> passing = new LinkedHashMap<>();
  private Set<String> ofTheInterlocking = Set.of();

  Alarms(BoxListener listener) {
    this.listener = listener;
  }

  void raise(String what) {
    if (ofTheBox.add(what)) {
      listener.alarmRaised(what);
    }
  }

  /** Raises an alarm in the place of all others of the box that begin so. */
  void raiseInstead(String beginning, String what) {
    clearThose(other -> other.startsWith(beginning) && !other.equals(what));
    raise(what);
  }

  /** Clears every alarm of the box that begins so. */
  void clear(String beginning) {
    clearThose(what -> what.startsWith(beginning));
  }

  private void clearThose(Predicate<String> which) {
    List<String> gone = ofTheBox.stream().filter(which).toList();
    gone.forEach(ofTheBox::remove);
    gone.forEach(untilAnswered::remove);
    gone.forEach(listener::alarmCleared);
  }

  /** Raises an alarm that lasts until every device has answered again. */
  void raiseUntilAnswered(String what) {
    raiseInsteadUntilAnswered(what, what);
  }

  /** As {@link #raiseInstead}, and it lasts until every device has answered again. */
  void raiseInsteadUntilAnswered(String beginning, String what) {
    raiseInstead(beginning, what);
    untilAnswered.add(what);
  }

  /** Every device has answered. */
  void allAnswered() {
    List.copyOf(untilAnswered).forEach(this::clear);
  }

  /** Raises an alarm that goes by itself at some time, unless it is raised again until then. */
  void raiseUntil(String what, long endNs) {
    boolean hasRoom = passing.size() < PASSING_MAX || passing.containsKey(what);
    String told = hasRoom ? what : OTHERS;
    passing.put(told, endNs);
    raise(told);
  }

  /** Lets go what nobody has raised again. */
  void advance(long nowNs) {
    if (!passing.isEmpty()) {
      List<String> gone =
          passing.keySet().stream().filter(what -> passing.get(what) <= nowNs).toList();
      gone.forEach(passing::remove);
      gone.forEach(this::clear);
    }
  }

  /** When {@link #advance} is next needed. */
  OptionalLong deadlineNs() {
    return passing.values().stream().mapToLong(Long::longValue).min();
  }

  /** Takes over what the interlocking's alarms are now. */
  void follow(Collection<String> now) {
    Set<String> before = ofTheInterlocking;
    ofTheInterlocking = new LinkedHashSet<>(now);
    now.stream().filter(what -> !before.contains(what)).forEach(listener::alarmRaised);
    before.stream()
        .filter(what -> !ofTheInterlocking.contains(what))
        .forEach(listener::alarmCleared);
  }

  List<String> standing() {
    Set<String> all = new LinkedHashSet<>(ofTheBox);
    all.addAll(ofTheInterlocking);
    return List.copyOf(all);
  }
}
