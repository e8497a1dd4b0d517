package tappet.layout;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.source.Fields;
import tappet.source.Place;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads the places that people speak of. */
final class PlacesReader {

  private final Map<String, Place> sections;

  /** By section: the place that it belongs to. */
  private final Map<String, String> placeOf = new LinkedHashMap<>();

  /** A reader of one file; every section it names must be declared. */
  PlacesReader(LayoutReader.Lists lists) {
    this.sections = ElementReader.declared(lists.sections());
  }

  Optional<NamedPlace> place(YamlNode.Text id, Value written) {
    return written.read(
        fields ->
            new NamedPlace(
                id.value(),
                fields
                    .optional("name", id.value())
                    .text()
                    .map(YamlNode.Text::value)
                    .orElse(id.value()),
                sections(id.value(), fields),
                fields.optional("notes", "tilling.md").text().map(YamlNode.Text::value),
                fields.optional("hidden", "yes").yesOrNo().orElse(false)));
  }

  private List<String> sections(String place, Fields fields) {
    List<String> own = new ArrayList<>();
    for (Value written : fields.required("sections", "[west-main]").items()) {
      ElementReader.named(written, "section", sections)
          .filter(section -> isFree(section, place, written))
          .ifPresent(own::add);
    }
    return own;
  }

  private boolean isFree(String section, String place, Value written) {
    String first = placeOf.putIfAbsent(section, place);
    if (first != null) {
      written.note(
          "section '%s' belongs to place '%s' already".formatted(section, first),
          "leave it out here, or there");
    }
    return first == null;
  }
}
