package tappet.bridge.mqtt;

import java.time.Duration;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.atomic.LongAdder;
import java.util.function.LongSupplier;
import tappet.bridge.pages.Office;
import tappet.bridge.pages.Territories;
import tappet.bridge.view.JsonText;
import tappet.bridge.web.Reply;
import tappet.sentence.Command;
import tappet.sentence.Sentences;
import tappet.source.Place;
import tappet.source.Problems;

/**
 * Takes sentences that come by MQTT. One is carried out only if it is new: messages may be kept by
 * the broker, by the sender while it is cut off, or come twice (MQTT 5.0 §4.3.2).
 */
final class CommandDesk {

  /** A sentence is new for so long; as much may clocks differ. */
  static final Duration NEW = Duration.ofSeconds(10);

  /** So many sentences in the time in which they are new; no hand is so quick. */
  static final int REMEMBERED_MAX = 200;

  /** Who says it, as it is told and recorded: a broker does not tell who sends. */
  private static final String WHO = "MQTT";

  /** Why a sentence was not carried out. */
  enum Refusal {
    RETAINED,
    MALFORMED,
    OLD,
    REPEATED,
    TOO_MANY,
    NOT_UNDERSTOOD,
    NOT_ALLOWED;

    String words() {
      return name().toLowerCase(Locale.ROOT).replace('_', ' ');
    }
  }

  /** What became of a sentence: {@code kind} as the pages are told, {@code text} for people. */
  record Told(String id, String kind, String text) {

    /** As it is answered. */
    String json() {
      return JsonText.object(
          json -> {
            json.writeStringField("id", id);
            json.writeStringField("answer", kind);
            json.writeStringField("text", text);
          });
    }
  }

  private final MqttPlan.Commands leave;
  private final Office office;
  private Territories territories;
  private final LongSupplier wallClockMs;
  private final Map<Refusal, LongAdder> refused = new EnumMap<>(Refusal.class);

  /** When each sentence that may come again was said, the oldest first. */
  private final Map<String, Long> remembered = new LinkedHashMap<>();

  CommandDesk(
      MqttPlan.Commands leave, Office office, Territories territories, LongSupplier wallClockMs) {
    this.leave = leave;
    this.office = office;
    this.territories = territories;
    this.wallClockMs = wallClockMs;
    for (Refusal refusal : Refusal.values()) {
      refused.put(refusal, new LongAdder());
    }
  }

  /** Other files have taken over. */
  void goOn(Territories next) {
    territories = next;
  }

  /** How many were refused, by reason; from any thread. */
  Map<String, Long> refused() {
    Map<String, Long> counts = new LinkedHashMap<>();
    refused.forEach((refusal, count) -> counts.put(refusal.words(), count.sum()));
    return counts;
  }

  /**
   * Takes a message.
   *
   * @param retained whether the broker had kept it
   * @return what became of it; empty where nobody can be answered
   */
  Optional<CompletableFuture<Told>> take(byte[] payload, boolean retained) {
    Optional<Telling> telling = Telling.read(payload);
    if (retained) {
      return refuse(telling, Refusal.RETAINED, "a retained sentence is never carried out");
    }
    if (telling.isEmpty()) {
      return refuse(telling, Refusal.MALFORMED, "");
    }
    return whyNotNew(telling.get())
        .map(why -> refuse(telling, why, words(why)))
        .orElseGet(() -> Optional.of(carryOut(telling.get())));
  }

  private Optional<Refusal> whyNotNew(Telling telling) {
    long nowMs = wallClockMs.getAsLong();
    remembered.values().removeIf(atMs -> nowMs - atMs > NEW.toMillis());
    if (Math.abs(nowMs - telling.atMs()) > NEW.toMillis()) {
      return Optional.of(Refusal.OLD);
    }
    if (remembered.containsKey(telling.id())) {
      return Optional.of(Refusal.REPEATED);
    }
    if (remembered.size() >= REMEMBERED_MAX) {
      return Optional.of(Refusal.TOO_MANY);
    }
    remembered.put(telling.id(), telling.atMs());
    return Optional.empty();
  }

  private static String words(Refusal why) {
    return switch (why) {
      case OLD ->
          "it was not said within %d s of now; look at the clocks".formatted(NEW.toSeconds());
      case REPEATED -> "a sentence with this id has been taken already";
      default -> "too many sentences; wait";
    };
  }

  private CompletableFuture<Told> carryOut(Telling telling) {
    Problems problems = new Problems();
    Optional<Command> command =
        Sentences.command(telling.sentence(), Place.inText("sentence", 1), problems);
    if (command.isEmpty()) {
      String first = problems.sorted().get(0).toString();
      return refuse(telling, Refusal.NOT_UNDERSTOOD, first);
    }
    return territories
        .whyNot(leave.role(), leave.territory(), command.get(), office::sight)
        .thenCompose(whyNot -> carryOut(telling, command.get(), whyNot));
  }

  private CompletableFuture<Told> carryOut(
      Telling telling, Command command, Optional<String> whyNot) {
    return whyNot
        .map(why -> refuse(telling, Refusal.NOT_ALLOWED, why))
        .orElseGet(
            () ->
                office
                    .carryOut(command, telling.sentence(), WHO)
                    .thenApply(reply -> told(telling, reply)));
  }

  private static Told told(Telling telling, Reply reply) {
    return new Told(telling.id(), reply.kind().word(), reply.text());
  }

  private Optional<CompletableFuture<Told>> refuse(
      Optional<Telling> telling, Refusal why, String words) {
    if (telling.isEmpty()) {
      refused.get(why).increment();
      return Optional.empty();
    }
    return Optional.of(refuse(telling.get(), why, words));
  }

  private CompletableFuture<Told> refuse(Telling telling, Refusal why, String words) {
    refused.get(why).increment();
    return CompletableFuture.completedFuture(new Told(telling.id(), why.words(), words));
  }
}
