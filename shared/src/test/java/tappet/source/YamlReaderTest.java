package tappet.source;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Optional;
import java.util.Random;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

class YamlReaderTest {

  private final Problems problems = new Problems();

  @Test
  void everythingKnowsItsPlace() {
    var root = (YamlNode.Entries) read("a: 1\nb:\n  - 'x y'\n  - {c: d}\n").orElseThrow();
    var list = (YamlNode.Items) root.get("b").orElseThrow();
    var quoted = (YamlNode.Text) list.items().get(0);
    var inner = (YamlNode.Entries) list.items().get(1);

    assertEquals(new Place("f", 2, 1), root.entries().get(1).key().place());
    assertEquals(new Place("f", 3, 3), list.place());
    assertEquals(new Place("f", 3, 5), quoted.place());
    assertEquals(new Place("f", 3, 6), quoted.textPlace());
    assertEquals(new Place("f", 4, 6), inner.entries().get(0).key().place());
    assertEquals(new Place("f", 4, 9), inner.get("c").orElseThrow().place());
    assertTrue(problems.none());
  }

  @Test
  void keysKeepTheOrderOfTheFile() {
    var root = (YamlNode.Entries) read("z: 1\na: 2\nm: 3\n").orElseThrow();
    assertEquals(
        "z a m",
        root.entries().stream().map(entry -> entry.key().value()).collect(Collectors.joining(" ")));
  }

  @Test
  void invisibleMarkAtTheStartShiftsNothing() {
    var root = read("\uFEFFa: 1").orElseThrow();
    assertEquals(new Place("f", 1, 1), root.place());
  }

  // YAML 1.2, 10.3.2: 'on' and 'no' are plain words there, as in a name of a switch.
  @Test
  void oldYamlWordsStayWords() {
    var root = (YamlNode.Entries) read("on: no").orElseThrow();
    assertEquals("no", ((YamlNode.Text) root.get("on").orElseThrow()).value());
  }

  static Stream<Arguments> mistakes() {
    return Stream.of(
        Arguments.of("", "f:1:1: the file is empty; start from a file in config/starter"),
        Arguments.of("# only\n", "f:1:1: the file is empty; start from a file in config/starter"),
        Arguments.of(
            "a: 1\nb: 2\na: 3\n",
            "f:3:1: 'a' stands here a second time, first in line 1; remove or rename one of the two"),
        Arguments.of(
            "a:\n\tb: 1\n",
            "f:2:1: a tab stands where spaces belong; indent with two spaces for each level"),
        Arguments.of(
            "a:\n  b: 1\n\tc: 1\n",
            "f:3:1: a tab stands where spaces belong; indent with two spaces for each level"),
        Arguments.of(
            "a: 1\nb:2\nc: 3\n", "f:2:1: a space is missing after the colon; write 'b: 2'"),
        Arguments.of(
            "a: 1\nb 2\nc: 3\n", "f:2:1: 'b 2' has no colon; write a key, a colon and a value"),
        Arguments.of("a: 1\nb\n", "f:2:1: 'b' has no colon; write a key, a colon and a value"),
        Arguments.of(
            "a: b: c\n",
            "f:1:5: a colon cannot stand here; put quotes around a text with a colon in it, or see"
                + " whether the line above lacks its colon or this line is indented too far"),
        Arguments.of(
            "a: [1, 2\nb: 3\n", "f:1:4: this '[' is never closed; add ']' behind its last value"),
        Arguments.of("a: [1, 2", "f:1:4: this '[' is never closed; add ']' behind its last value"),
        Arguments.of(
            "a: {b: 2\nc: 3\n", "f:1:4: this '{' is never closed; add '}' behind its last value"),
        Arguments.of(
            "a: ['1' '2']\n",
            "f:1:9: a comma or ']' is missing before this; separate the values with commas and"
                + " close with ']'"),
        Arguments.of(
            "a: 'it\nb: 2\n", "f:1:4: this quote is never closed; add ' at the end of the text"),
        Arguments.of(
            "a: \"it\n", "f:1:4: this quote is never closed; add \" at the end of the text"),
        Arguments.of("a: @it\n", "f:1:4: a text cannot start with '@'; put quotes around the text"),
        Arguments.of("a: %it\n", "f:1:4: a text cannot start with '%'; put quotes around the text"),
        Arguments.of(
            "a:\n  b: 1\n c: 2\n",
            "f:3:2: this line is not in line with those it belongs to; line it up with line 1"
                + " or with line 2"),
        Arguments.of(
            "a: 'b' c\n",
            "f:1:8: 'c' does not fit behind what stands before it; put quotes around the whole"
                + " text, or check commas and brackets"),
        Arguments.of(
            "a: ]\n",
            "f:1:4: a value is missing before ']'; write the value, or put quotes around a text"
                + " that has such signs in it"),
        Arguments.of(
            "a: - b\n",
            "f:1:4: a list cannot start here; put each '- ' on a line of its own, below its key"),
        Arguments.of(
            "a: 1\n---\nb: 2\n",
            "f:2:1: a second document starts here; remove the line '---': one file, one document"),
        Arguments.of(
            "a: &x 1\nb: *x\n",
            "f:2:4: '*' refers to another part of the file, which is not supported; write the value"
                + " out, or put quotes around a text that starts with '*'"),
        Arguments.of(
            "a: !x 1\n",
            "f:1:4: '!' names a type of YAML, which is not supported; remove it, or put quotes"
                + " around a text that starts with '!'"),
        Arguments.of(
            "[a]: 1\n",
            "f:1:1: a list or a set of keys cannot be a key; write a plain word before the colon,"
                + " or put quotes around it"),
        Arguments.of(
            "a: \u0007\n",
            "f:1:4: a character that cannot be printed stands here (U+0007); remove it"),
        Arguments.of(
            "a:\n" + "[".repeat(40),
            "f:2:32: this is nested deeper than 32 levels; look for brackets that were never closed"),
        Arguments.of(
            "[".repeat(500_000),
            "f:1:33: this is nested deeper than 32 levels; look for brackets that were never closed"),
        Arguments.of(
            "a".repeat(4_000_001),
            "f:1:1: the file has 4,000,001 characters; the most that is read is 4,000,000"));
  }

  @ParameterizedTest
  @MethodSource("mistakes")
  void mistakeIsToldWithItsPlaceAndRepair(String text, String message) {
    read(text);
    assertEquals(
        message,
        problems.sorted().stream().map(Problem::toString).collect(Collectors.joining("\n")));
  }

  @Test
  void garbageNeverThrows() {
    long seed = new Random().nextLong();
    System.out.println("YamlReaderTest.garbageNeverThrows seed " + seed);
    var random = new Random(seed);
    String signs = "ab1 :-[]{}'\"\n\n\t#&*!|>%@`,?~.\\\u0007\uD83D\u00e9";
    for (int round = 0; round < 5_000; round++) {
      var noted = new Problems();
      var text =
          random
              .ints(random.nextInt(40), 0, signs.length())
              .mapToObj(index -> signs.substring(index, index + 1))
              .collect(Collectors.joining());
      var root = YamlReader.read("f", text, noted);
      assertTrue(root.isPresent() || !noted.none(), () -> "seed " + seed + ", text " + text);
    }
  }

  private Optional<YamlNode> read(String text) {
    return YamlReader.read("f", text, problems);
  }
}
