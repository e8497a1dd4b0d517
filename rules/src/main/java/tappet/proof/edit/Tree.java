package tappet.proof.edit;

import java.util.Iterator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import tappet.source.Problems;
import tappet.source.YamlNode;
import tappet.source.YamlReader;

/** An owner's file that can be changed in one place and written again, each thing in its line. */
public final class Tree {

  private final YamlNode root;

  private Tree(YamlNode root) {
    this.root = root;
  }

  /**
   * Reads a file.
   *
   * @throws IllegalArgumentException if the text is no YAML
   */
  public static Tree of(String text) {
    return YamlReader.read("file", text, new Problems())
        .map(Tree::new)
        .orElseThrow(() -> new IllegalArgumentException("no YAML: " + text));
  }

  /** All that is in it. */
  public YamlNode root() {
    return root;
  }

  /** The file as it is, in another form. */
  public String text() {
    return new Pen().text(root);
  }

  /** The file without one item of a list, or without the key that a value stands behind. */
  public String without(YamlNode node) {
    return new Pen().text(changed(root, node, Optional.empty()).orElse(root));
  }

  /** The file with something else in the place of what stands there. */
  public String with(YamlNode node, YamlNode instead) {
    return new Pen().text(changed(root, node, Optional.of(instead)).orElse(root));
  }

  /** One node of a file is never equal to another: each has a place or a shape of its own. */
  private static Optional<YamlNode> changed(
      YamlNode here, YamlNode node, Optional<YamlNode> instead) {
    if (here.equals(node)) {
      return instead;
    }
    if (here instanceof YamlNode.Items list) {
      List<YamlNode> items =
          list.items().stream().flatMap(item -> changed(item, node, instead).stream()).toList();
      return Optional.of(new YamlNode.Items(items, list.place()));
    }
    if (here instanceof YamlNode.Entries keys) {
      List<YamlNode.Entry> entries =
          keys.entries().stream().flatMap(entry -> changed(entry, node, instead)).toList();
      return Optional.of(new YamlNode.Entries(entries, keys.place()));
    }
    return Optional.of(here);
  }

  private static Stream<YamlNode.Entry> changed(
      YamlNode.Entry entry, YamlNode node, Optional<YamlNode> instead) {
    return changed(entry.value(), node, instead).stream()
        .map(value -> new YamlNode.Entry(entry.key(), value));
  }

  /** Writes everything in the line in which it stood, so that messages name the owner's lines. */
  private static final class Pen {

    private final StringBuilder text = new StringBuilder();
    private int line = 1;

    String text(YamlNode node) {
      write(node);
      return text.append('\n').toString();
    }

    private void write(YamlNode node) {
      for (; line < node.place().line(); line++) {
        text.append('\n');
      }
      if (node instanceof YamlNode.Text word) {
        text.append(quoted(word.value()));
      } else if (node instanceof YamlNode.Items list) {
        text.append('[');
        for (Iterator<YamlNode> items = list.items().iterator(); items.hasNext(); ) {
          write(items.next());
          text.append(items.hasNext() ? ", " : "");
        }
        text.append(']');
      } else if (node instanceof YamlNode.Entries keys) {
        text.append('{');
        for (Iterator<YamlNode.Entry> entries = keys.entries().iterator(); entries.hasNext(); ) {
          YamlNode.Entry entry = entries.next();
          write(entry.key());
          text.append(": ");
          write(entry.value());
          text.append(entries.hasNext() ? ", " : "");
        }
        text.append('}');
      }
    }

    private static String quoted(String value) {
      return '"' + value.replace("\\", "\\\\").replace("\"", "\\\"").replace("\n", "\\n") + '"';
    }
  }
}
