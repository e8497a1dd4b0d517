package tappet.bridge.health;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import tappet.bridge.view.JsonText;
import tappet.bridge.web.Health;

/**
 * Judges how the daemon fares. It is well if the box answers in time, the interlocking has not
 * failed, the node may speak and every connection that the owner asked for is up.
 */
public final class Vitals {

  private final Vigilance vigilance;

  public Vitals(Vigilance vigilance) {
    this.vigilance = vigilance;
  }

  /** One part of the daemon. */
  private record Part(String name, boolean well, String words) {}

  /** How it fares now; from any thread. */
  public Health now() {
    List<Part> parts = parts();
    boolean well = parts.stream().allMatch(Part::well);
    return new Health(well, json(well, parts));
  }

  boolean isWell() {
    return parts().stream().allMatch(Part::well);
  }

  private List<Part> parts() {
    Optional<Pulse> pulse = vigilance.heard().map(Vigilance.Heard::pulse);
    boolean answers = pulse.isPresent() && !vigilance.isStalled();
    List<Part> parts = new ArrayList<>();
    parts.add(new Part("box", answers, answers ? "answers" : "does not answer"));
    pulse.ifPresent(said -> addParts(said, parts));
    return parts;
  }

  private static void addParts(Pulse said, List<Part> parts) {
    boolean failed = said.failed();
    parts.add(new Part("interlocking", !failed, failed ? "has failed" : "works"));
    parts.add(new Part("node", said.ready(), said.ready() ? "may speak" : "has no alias"));
    said.connections()
        .forEach((name, up) -> parts.add(new Part(name, up, up ? "is up" : "is down")));
  }

  /** Every part was heard of when the box last answered: one age is that of all. */
  private String json(boolean well, List<Part> parts) {
    long ageMs = vigilance.silence().toMillis();
    return JsonText.object(
        json -> {
          json.writeNumberField("at", System.currentTimeMillis());
          json.writeBooleanField("well", well);
          json.writeArrayFieldStart("parts");
          for (Part part : parts) {
            json.writeStartObject();
            json.writeStringField("part", part.name());
            json.writeBooleanField("well", part.well());
            json.writeStringField("words", part.words());
            json.writeNumberField("age", ageMs);
            json.writeEndObject();
          }
          json.writeEndArray();
        });
  }
}
