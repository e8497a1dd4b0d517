package tappet.layout;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.source.Place;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads diamonds; every joint and section they name must be declared. */
final class DiamondReader {

  private final Map<String, Place> joints;
  private final Map<String, Place> sections;

  /** A reader of one file's diamonds. */
  DiamondReader(LayoutReader.Lists lists) {
    this.joints = ElementReader.declared(lists.joints());
    this.sections = ElementReader.declared(lists.sections());
  }

  Optional<Diamond> diamond(YamlNode.Text id, Value written) {
    return written.read(
        fields ->
            new Diamond(
                id.value(),
                fields.optional("name", "Mill crossing").text().orElse(id).value(),
                ElementReader.named(fields.required("section", "mill-x"), "section", sections)
                    .orElse(""),
                tracks(fields.required("tracks", "[[j1, j2], [j3, j4]]")),
                id.place()));
  }

  private List<List<String>> tracks(Value written) {
    List<String> ends = new ArrayList<>();
    return written.items(2).stream().map(track -> track(track, ends)).toList();
  }

  private List<String> track(Value written, List<String> before) {
    List<String> track = new ArrayList<>();
    for (Value end : written.called("a track", "tracks: [[j1, j2], [j3, j4]]").items(2)) {
      ElementReader.named(end, "joint", joints).ifPresent(joint -> add(joint, end, before, track));
    }
    return List.copyOf(track);
  }

  private static void add(String joint, Value written, List<String> before, List<String> track) {
    if (before.contains(joint)) {
      written.note(
          "joint '%s' stands twice in one diamond".formatted(joint),
          "its two tracks end at four different joints");
    }
    before.add(joint);
    track.add(joint);
  }
}
