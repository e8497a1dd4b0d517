package tappet.proof.published;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.interlocking.PublishedExample;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.proof.ExplicitSearch;
import tappet.proof.Property;
import tappet.proof.Story;
import tappet.proof.Watched;
import tappet.proof.published.Trams.Length;

/**
 * F. Zeyda, J. Ouy, S. Foster, A. Cavalcanti, Formalised Cosimulation Models, SEFM 2017: the
 * published relay equations are safe for trams shorter than a section, and move a switch under the
 * tail of one that straddles a joint. Counts and verdicts are those of tram-relay-equations.json,
 * {@code oracle}; the property is its {@code published_safety_property}.
 */
class RelayEquationsTest {

  private static JsonNode oracle(Length length) {
    String trams = "trains_" + length.name().toLowerCase(Locale.ROOT);
    return PublishedExample.named(PublishedExample.TRAM_JUNCTION).data.get("oracle").get(trams);
  }

  static Stream<Arguments> counts() {
    List<Arguments> counts = new ArrayList<>();
    for (Length length : Length.values()) {
      oracle(length)
          .properties()
          .forEach(
              row -> {
                if (row.getValue().isInt()) {
                  counts.add(Arguments.of(length, row.getKey(), row.getValue().asInt()));
                }
              });
    }
    assertEquals(12, counts.size());
    return counts.stream();
  }

  @ParameterizedTest
  @MethodSource("counts")
  void haveAsManyStatesAsTheirFileSaysAndAreSafeInEachWhereItSaysSo(
      Length length, String starts, int states) {
    List<String> names = List.of(starts.split("\\+", -1));
    Watched watched = Trams.from(names, length);
    List<Variable> asked = new ArrayList<>(watched.network().latches().keySet());
    watched.properties().forEach(property -> asked.add(property.holds()));

    ExplicitSearch search = new ExplicitSearch(watched.network(), asked);
    search.search(Integer.MAX_VALUE);

    assertEquals(states, search.states());
    boolean unsafe = length == Length.THAT_MAY_STRADDLE_A_JOINT && names.contains("V");
    assertEquals(
        unsafe ? Set.of(Trams.notDerailed("V")) : Set.of(),
        watched.properties().stream()
            .filter(property -> search.firstFalse().containsKey(property.holds()))
            .map(Property::words)
            .collect(Collectors.toSet()));
  }

  // "V1Q1 is released as soon as track 5 is occupied, SW3 drops back to diverging while the tail is
  // still in 4 (train occupies 4 and 5, R1 set, next cycle)."
  @Test
  void tramFromVIsDerailedByTheCycleAfterItHasReachedTrack5() {
    Watched watched = Trams.from(List.of("V"), Length.THAT_MAY_STRADDLE_A_JOINT);
    Map<String, Story> disproven = Judged.of(watched).disproven();
    assertEquals(Set.of(Trams.notDerailed("V")), disproven.keySet());

    List<Story.Moment> moments = disproven.get(Trams.notDerailed("V")).moments();
    Story.Moment last = moments.get(moments.size() - 1);
    Stepper before = played(watched, moments.subList(0, moments.size() - 1));
    assertEquals("cycle", last.words());
    assertTrue(is(before, Trams.stands("V", "4")));
    assertTrue(is(before, Trams.stands("V", "5")));
    assertTrue(is(before, "relay R1"));
    assertTrue(is(before, "switch SW3: straight"));
    play(last, before);
    assertTrue(is(before, Trams.stands("V", "4")));
    assertFalse(is(before, "relay R1"));
    assertFalse(is(before, "switch SW3: straight"));
  }

  /**
   * A tram from V may stand in 12 by either of two relays. No lemma of two latches says so, and
   * what is said of it is neither proven nor disproven: the search through every state, above, is
   * its only proof.
   */
  @Test
  void tramsFromQ2AndQ3AreProvenSafe() {
    Watched watched = Trams.from(List.of("Q2", "Q3"), Length.SHORTER_THAN_ONE_SECTION);
    assertEquals(watched.properties().size(), Judged.of(watched).proven().size());
  }

  // Tappet's own property, S3 of the interlocking sheet, F.1: trains are of any length there, and
  // so it is not only the tail in 4 that is lost. SW1 and SW4 are never told to move.
  @Test
  void switchesAreMovedUnderTrainsByTappetsOwnPropertyToo() {
    Judged judged =
        Judged.of(
            BoundEquations.watched(),
            property -> property.kind() == Property.Kind.SWITCH_UNDER_TRAIN);
    assertEquals(Set.of(sent("SW1"), sent("SW4")), judged.proven());
    assertEquals(Set.of(sent("SW2"), sent("SW3"), sent("SW5")), judged.disproven().keySet());

    List<String> moments = Judged.moments(judged.disproven().get(sent("SW3")));
    assertEquals(
        Set.of("request TC4", "section 4: occupied", "section 5: occupied"), Set.copyOf(moments));
    assertEquals("request TC4", moments.get(0));
  }

  private static String sent(String toe) {
    return "switch " + toe + " is sent only while its section is clear";
  }

  private static boolean is(Stepper stepper, String variable) {
    return stepper.value(stepper.network().named(variable));
  }

  private static Stepper played(Watched watched, List<Story.Moment> moments) {
    Stepper stepper = new Stepper(watched.network());
    watched.happenings().begin(stepper);
    stepper.step((variable, value) -> {});
    moments.forEach(moment -> play(moment, stepper));
    return stepper;
  }

  private static void play(Story.Moment moment, Stepper stepper) {
    for (int index = 0; index < moment.reports().size(); index++) {
      stepper.set(moment.reports().get(index), moment.values().get(index));
    }
    moment.pulses().forEach(stepper::pulse);
    stepper.step((variable, value) -> {});
  }
}
