package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.layout.Switch;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.source.Problems;

/** Where signals stand on the railroads that come with Tappet, held against their plans alone. */
class SignalsProvidedTest {

  /** Full speed of the sheet's example (interlocking sheet, G, scaling). */
  private static final double METRES_PER_SECOND = 0.3;

  /** From full speed to a stand; for a layout, from memory. */
  private static final double BRAKING_SECONDS = 5;

  static List<Desk.Railroad> railroads() {
    return List.of(Desk.Railroad.GROWN, Desk.Railroad.STARTER);
  }

  // 49 CFR 236.301: each entry to the limits has a signal, or an electric lock holds its switch.
  @ParameterizedTest
  @MethodSource("railroads")
  void everyEntryToSwitchesHasASignalOrAnElectricLock(Desk.Railroad railroad) {
    assertEquals(List.of(), openEntries(railroad.layout()));
  }

  // H.18: the check finds the entry whose signal is taken out.
  @Test
  void entryWithoutSignalIsFound() {
    var text = Between.LAYOUT.replaceAll(" *c4e: .*\\n", "");
    var layout = LayoutReader.read("layout.yaml", text, new Problems()).orElseThrow();
    assertEquals(List.of("c into east-os"), openEntries(layout));
  }

  // 49 CFR 236.24: whoever learns at a signal that the next one is at Stop can stop before it.
  @ParameterizedTest
  @MethodSource("railroads")
  void everySignalIsAtLeastAStoppingDistanceBeforeTheNext(Desk.Railroad railroad) {
    for (var row : railroad.table().routes().values()) {
      double metres =
          row.path().stream()
              .mapToDouble(section -> railroad.layout().sections().get(section).lengthMetres())
              .sum();
      assertTrue(
          row.nextSignal().isEmpty() || metres >= METRES_PER_SECOND * BRAKING_SECONDS, row::id);
    }
  }

  private static List<String> openEntries(Layout layout) {
    TrackPlan plan = new TrackPlan(layout);
    Set<String> limits =
        layout.switches().values().stream().map(Switch::section).collect(Collectors.toSet());
    List<String> open = new ArrayList<>();
    for (String joint : layout.joints().keySet()) {
      plan.tracksAt(joint).stream()
          .filter(track -> limits.contains(track.section()))
          .filter(
              track ->
                  plan.onwards(track, joint).stream()
                      .anyMatch(from -> !limits.contains(from.section())))
          .map(Track::section)
          .distinct()
          .filter(section -> !isSignalled(joint, section, plan) && !isLocked(joint, section, plan))
          .forEach(section -> open.add(joint + " into " + section));
    }
    return open;
  }

  private static boolean isSignalled(String joint, String section, TrackPlan plan) {
    return plan.signalsAt(joint).stream().anyMatch(signal -> signal.into().equals(section));
  }

  /** An electric lock holds a switch of the section one of whose legs ends at the joint. */
  private static boolean isLocked(String joint, String section, TrackPlan plan) {
    return plan.tracksAt(joint).stream()
        .filter(track -> track.section().equals(section))
        .flatMap(track -> track.leg().stream())
        .anyMatch(leg -> plan.layout().switches().get(leg.switchId()).lock().isPresent());
  }
}
