package tappet.layout;

import java.util.List;
import java.util.Map;
import tappet.source.Problems;

/**
 * Checks that the tracks of a diamond cross on the drawn plan. Of the three ways to pair four
 * joints at most one crosses: a pairing that does not would send trains where no rail leads.
 */
final class CrossingCheck {

  private final Map<String, Joint> joints;
  private final Problems problems;

  CrossingCheck(Map<String, Joint> joints, Problems problems) {
    this.joints = joints;
    this.problems = problems;
  }

  void check(Diamond diamond) {
    if (!cross(diamond.tracks())) {
      problems.add(
          diamond.place(),
          "the two tracks of diamond '%s' do not cross on the drawn plan".formatted(diamond.id()),
          meant(diamond));
    }
  }

  private String meant(Diamond diamond) {
    var one = diamond.tracks().get(0);
    var other = diamond.tracks().get(1);
    return List.of(
            pairs(one.get(0), other.get(0), one.get(1), other.get(1)),
            pairs(one.get(0), other.get(1), one.get(1), other.get(0)))
        .stream()
        .filter(this::cross)
        .findFirst()
        .map("did you mean 'tracks: %s'?"::formatted)
        .orElse("each track is written with the two joints at its ends");
  }

  private static List<List<String>> pairs(String a, String b, String c, String d) {
    return List.of(List.of(a, b), List.of(c, d));
  }

  private boolean cross(List<List<String>> tracks) {
    return parts(tracks.get(0), tracks.get(1)) && parts(tracks.get(1), tracks.get(0));
  }

  /** Whether the ends of {@code other} lie on different sides of the line through {@code track}. */
  private boolean parts(List<String> track, List<String> other) {
    return side(track, other.get(0)) * side(track, other.get(1)) < 0;
  }

  /** Above 0 on the left of the line through {@code track}, below 0 on its right. */
  private double side(List<String> track, String joint) {
    var from = joints.get(track.get(0));
    var to = joints.get(track.get(1));
    var at = joints.get(joint);
    return (to.x() - from.x()) * (at.y() - from.y()) - (to.y() - from.y()) * (at.x() - from.x());
  }
}
