package tappet.source;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.snakeyaml.engine.v2.api.LoadSettings;
import org.snakeyaml.engine.v2.composer.Composer;
import org.snakeyaml.engine.v2.exceptions.Mark;
import org.snakeyaml.engine.v2.exceptions.YamlEngineException;
import org.snakeyaml.engine.v2.nodes.MappingNode;
import org.snakeyaml.engine.v2.nodes.Node;
import org.snakeyaml.engine.v2.nodes.NodeTuple;
import org.snakeyaml.engine.v2.nodes.ScalarNode;
import org.snakeyaml.engine.v2.nodes.SequenceNode;
import org.snakeyaml.engine.v2.parser.ParserImpl;
import org.snakeyaml.engine.v2.scanner.StreamReader;

/**
 * Reads YAML 1.2 into a tree in which everything knows its place.
 *
 * <p>Bad input never throws; it becomes a problem. Bounds: {@value #LENGTH_MAX} characters, {@value
 * BoundedParser#DEPTH_MAX} levels, no aliases.
 */
public final class YamlReader {

  /**
   * A thousand control points written as fully as those of the demo take some 2.5 million
   * characters; the rest is room for the owner's comments.
   */
  static final int LENGTH_MAX = 4_000_000;

  private static final String BYTE_ORDER_MARK = "\uFEFF";

  private final String file;
  private final Problems problems;

  private YamlReader(String file, Problems problems) {
    this.file = file;
    this.problems = problems;
  }

  /**
   * Reads a file.
   *
   * @param file its name, for messages
   * @param text what is in it
   * @param problems where mistakes are noted
   * @return the tree, or empty if the text is no YAML at all; duplicate keys are noted and the
   *     first one is kept
   */
  public static Optional<YamlNode> read(String file, String text, Problems problems) {
    return new YamlReader(file, problems).read(text);
  }

  private Optional<YamlNode> read(String written) {
    String text = withoutByteOrderMark(written);
    if (text.length() > LENGTH_MAX) {
      problems.add(
          new Place(file, 1, 1),
          "the file has %,d characters".formatted(text.length()),
          "the most that is read is %,d".formatted(LENGTH_MAX));
      return Optional.empty();
    }
    return compose(text).map(this::node);
  }

  /** Some editors start a file with an invisible mark that would shift the first line's columns. */
  private static String withoutByteOrderMark(String text) {
    return text.startsWith(BYTE_ORDER_MARK) ? text.substring(1) : text;
  }

  private Optional<Node> compose(String text) {
    var settings = settings();
    try {
      var parser = new ParserImpl(settings, new StreamReader(settings, text));
      var root = new Composer(settings, new BoundedParser(parser)).getSingleNode();
      if (root.isEmpty()) {
        problems.add(
            new Place(file, 1, 1), "the file is empty", "start from a file in config/starter");
      }
      return root;
    } catch (YamlEngineException mistake) {
      problems.add(new SyntaxMistake(file, text).problem(mistake));
      return Optional.empty();
    }
  }

  private LoadSettings settings() {
    return LoadSettings.builder()
        .setLabel(file)
        .setCodePointLimit(LENGTH_MAX)
        .setMaxAliasesForCollections(0)
        .setAllowRecursiveKeys(false)
        .setAllowNonScalarKeys(true) // noted here, with their place
        .setAllowDuplicateKeys(true) // noted here, with both places
        .build();
  }

  private YamlNode node(Node node) {
    if (node instanceof ScalarNode scalar) {
      return text(scalar);
    }
    if (node instanceof SequenceNode sequence) {
      return new YamlNode.Items(sequence.getValue().stream().map(this::node).toList(), place(node));
    }
    if (node instanceof MappingNode mapping) {
      return entries(mapping);
    }
    throw new IllegalStateException("no such YAML node: " + node.getNodeType());
  }

  private YamlNode.Text text(ScalarNode scalar) {
    return new YamlNode.Text(scalar.getValue(), place(scalar), !scalar.isPlain());
  }

  private YamlNode.Entries entries(MappingNode mapping) {
    Map<String, YamlNode.Entry> entries = new LinkedHashMap<>();
    for (NodeTuple tuple : mapping.getValue()) {
      var value = node(tuple.getValueNode());
      if (tuple.getKeyNode() instanceof ScalarNode scalar) {
        keep(new YamlNode.Entry(text(scalar), value), entries);
      } else {
        noteOddKey(place(tuple.getKeyNode()));
      }
    }
    return new YamlNode.Entries(List.copyOf(entries.values()), place(mapping));
  }

  private void keep(YamlNode.Entry entry, Map<String, YamlNode.Entry> entries) {
    var key = entry.key();
    var earlier = entries.putIfAbsent(key.value(), entry);
    if (earlier != null) {
      problems.add(
          key.place(),
          "%s stands here a second time, first in line %d"
              .formatted(key.shown(), earlier.key().place().line()),
          "remove or rename one of the two");
    }
  }

  private void noteOddKey(Place place) {
    problems.add(
        place,
        "a list or a set of keys cannot be a key",
        "write a plain word before the colon, or put quotes around it");
  }

  private Place place(Node node) {
    return place(file, node.getStartMark());
  }

  static Place place(String file, Optional<Mark> mark) {
    return mark.map(at -> new Place(file, at.getLine() + 1, at.getColumn() + 1))
        .orElseGet(() -> new Place(file, 1, 1));
  }
}
