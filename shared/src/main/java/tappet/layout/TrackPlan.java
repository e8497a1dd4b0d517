package tappet.layout;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * The layout as a graph of tracks between joints.
 *
 * <p>A joint has two sides. The legs of a switch lie on one side of its points, so that a train can
 * come from either leg to the points but never turn from one leg into the other.
 */
public final class TrackPlan {

  private final Layout layout;
  private final Map<String, List<Track>> tracksAt = new LinkedHashMap<>();
  private final Map<String, List<Track>> tracksIn = new LinkedHashMap<>();
  private final Map<String, List<Signal>> signalsAt = new LinkedHashMap<>();
  private final Map<Track, Track> crossings = new LinkedHashMap<>();

  public TrackPlan(Layout layout) {
    this.layout = layout;
    layout.joints().keySet().forEach(joint -> tracksAt.put(joint, new ArrayList<>()));
    layout.sections().values().stream()
        .filter(section -> !section.between().isEmpty())
        .forEach(this::layPlainTrack);
    layout.switches().values().forEach(this::layLegs);
    layout.diamonds().values().forEach(this::layCrossingTracks);
    layout.signals().values().forEach(this::placeSignal);
  }

  /** The layout this is the graph of. */
  public Layout layout() {
    return layout;
  }

  /** Every piece of track that ends at {@code joint}; none where there is no such joint. */
  public List<Track> tracksAt(String joint) {
    return List.copyOf(tracksAt.getOrDefault(joint, List.of()));
  }

  /** Every piece of track that lies in {@code section}; none where there is no such section. */
  public List<Track> tracksIn(String section) {
    return List.copyOf(tracksIn.getOrDefault(section, List.of()));
  }

  /** The signals that stand at {@code joint}, in the order of the file. */
  public List<Signal> signalsAt(String joint) {
    return List.copyOf(signalsAt.getOrDefault(joint, List.of()));
  }

  /**
   * One piece of track for each side of {@code joint} that has any: one at an end of track, two
   * where a train can run through.
   */
  public List<Track> sides(String joint) {
    List<Track> sides = new ArrayList<>();
    for (Track track : tracksAt(joint)) {
      if (sides.stream().noneMatch(side -> sameSide(side, track, joint))) {
        sides.add(track);
      }
    }
    return List.copyOf(sides);
  }

  /**
   * The pieces of track that a train coming over {@code arrival} to {@code joint} can run on to.
   */
  public List<Track> onwards(Track arrival, String joint) {
    return tracksAt(joint).stream().filter(track -> !sameSide(track, arrival, joint)).toList();
  }

  /** The pieces of track by which one enters {@code section} at {@code joint}. */
  public List<Track> into(String joint, String section) {
    return tracksAt(joint).stream().filter(track -> track.section().equals(section)).toList();
  }

  /** The track that crosses {@code track} at grade, where it is one of a diamond's. */
  public Optional<Track> crossing(Track track) {
    return Optional.ofNullable(crossings.get(track));
  }

  /**
   * Whether two pieces of track leave {@code joint} to the same side: they are one piece, or the
   * two legs of the switch whose points are there.
   */
  public static boolean sameSide(Track one, Track other, String joint) {
    return one.equals(other)
        || (legAt(one, joint) && legAt(other, joint) && sameSwitch(one, other));
  }

  private static boolean legAt(Track track, String joint) {
    return track.leg().isPresent() && track.from().equals(joint);
  }

  private static boolean sameSwitch(Track one, Track other) {
    return one.leg().map(Track.Leg::switchId).equals(other.leg().map(Track.Leg::switchId));
  }

  private void layPlainTrack(Section section) {
    lay(
        new Track(
            section.id(), section.between().get(0), section.between().get(1), Optional.empty()));
  }

  private void layLegs(Switch toe) {
    for (Position position : Position.values()) {
      if (toe.hasLeg(position)) {
        lay(
            new Track(
                toe.section(),
                toe.points(),
                toe.leg(position),
                Optional.of(new Track.Leg(toe.id(), position))));
      }
    }
  }

  private void layCrossingTracks(Diamond diamond) {
    List<Track> tracks =
        diamond.tracks().stream()
            .map(ends -> new Track(diamond.section(), ends.get(0), ends.get(1), Optional.empty()))
            .toList();
    tracks.forEach(this::lay);
    crossings.put(tracks.get(0), tracks.get(1));
    crossings.put(tracks.get(1), tracks.get(0));
  }

  private void placeSignal(Signal signal) {
    signalsAt.computeIfAbsent(signal.at(), joint -> new ArrayList<>()).add(signal);
  }

  private void lay(Track track) {
    tracksAt.get(track.from()).add(track);
    tracksAt.get(track.to()).add(track);
    tracksIn.computeIfAbsent(track.section(), section -> new ArrayList<>()).add(track);
  }
}
