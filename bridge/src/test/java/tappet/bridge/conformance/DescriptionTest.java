package tappet.bridge.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.StringReader;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import javax.xml.XMLConstants;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.transform.stream.StreamSource;
import javax.xml.validation.SchemaFactory;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Element;
import org.w3c.dom.Node;
import org.xml.sax.InputSource;

/** The description of the configuration, read as tools read it (S-9.7.4.1). */
class DescriptionTest extends Bench {

  private static final int PROTOCOL_ABBREVIATED = 0x004000;

  @Test
  @Checks({82, 83})
  void descriptionIsPlainTextClosedByOneZeroByteAndTheSameEachTime() throws Exception {
    // S-9.7.4.1 §4, §5
    String digits = tool().readDescription();
    assertEquals(digits, tool().readDescription());
    String text = strictUtf8(Tool.bytes(digits));
    assertTrue(text.startsWith("<?xml version=\"1.0\"?>\n<cdi "), text);
    assertFalse(text.contains("\r"));
    assertEquals(text.length() - 1, text.indexOf('\0'));
  }

  private static String strictUtf8(byte[] bytes) throws CharacterCodingException {
    return StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes)).toString();
  }

  @Test
  @Checks({82})
  void descriptionIsValidByItsSchema() throws Exception {
    // S-9.7.4.1 §5.1 and Appendix A
    var schema =
        SchemaFactory.newInstance(XMLConstants.W3C_XML_SCHEMA_NS_URI)
            .newSchema(getClass().getResource("/description.xsd"));
    schema.newValidator().validate(new StreamSource(new StringReader(description())));
  }

  private static String description() {
    return Tool.textIn(Tool.bytes(tool().readDescription()), 0);
  }

  @Test
  @Checks({82})
  void everyVariableCanBeReadAtItsAddress() throws Exception {
    // S-9.7.4.1 §5.1.4
    List<String> names = new ArrayList<>();
    List<String> events = new ArrayList<>();
    for (Element segment : children(root(), "segment")) {
      new Walk(segment, names, events).through(segment);
    }
    assertEquals(
        List.of(
            "Approach",
            "West switch",
            "Main",
            "Siding",
            "West switch",
            "West 2E",
            "Main 4W",
            "Siding 6W"),
        names);
    assertEquals(
        Stream.concat(BirchHollow.CONSUMED.stream(), BirchHollow.PRODUCED.stream())
            .sorted()
            .toList(),
        events.stream().sorted().toList());
  }

  /** Goes through a segment as §5.1.4 lays it out, and reads each variable it comes to. */
  private static final class Walk {

    private final String space;
    private final List<String> names;
    private final List<String> events;
    private int address;

    Walk(Element segment, List<String> names, List<String> events) {
      this.space = "%02X".formatted(number(segment, "space", 0));
      this.address = number(segment, "origin", 0);
      this.names = names;
      this.events = events;
    }

    void through(Element parent) {
      for (Element child : elements(parent)) {
        address += number(child, "offset", 0);
        switch (child.getTagName()) {
          case "group" -> group(child);
          case "string" -> names.add(Tool.textIn(Tool.bytes(next(number(child, "size", 0))), 0));
          case "eventid" -> events.add(next(Long.BYTES));
          case "name", "description", "hints" -> {}
          default -> throw new AssertionError(child.getTagName() + " is not expected here");
        }
      }
    }

    private void group(Element group) {
      for (int time = 0; time < number(group, "replication", 1); time++) {
        through(group);
      }
    }

    private String next(int size) {
      String content = tool().read(space, address, size);
      assertEquals(2 * size, content.length());
      address += size;
      return content;
    }
  }

  @Test
  @Checks({84})
  void descriptionNamesTheMakerAsItsSpaceDoes() throws Exception {
    // S-9.7.4.1 §5.1.1, §5.1.2
    Element identification = children(root(), "identification").get(0);
    assertEquals(tool().readText("FC", 1, 41), textOf(identification, "manufacturer"));
    assertEquals(tool().readText("FC", 42, 41), textOf(identification, "model"));
    assertEquals(tool().readText("FC", 83, 21), textOf(identification, "hardwareVersion"));
    assertEquals(tool().readText("FC", 104, 21), textOf(identification, "softwareVersion"));
    assertEquals("Tappet", textOf(identification, "manufacturer"));
  }

  @Test
  @Checks({27, 88})
  void claimsTheAbbreviatedDescriptionEverywhere() throws Exception {
    // S-9.7.4.1 §5.1.2
    tester.send("19828ttt 0ddd");
    String flags = tester.expect("19668ddd 0ttt *").content();
    assertTrue((Integer.parseInt(flags.substring(0, 6), 16) & PROTOCOL_ABBREVIATED) != 0, flags);
    Element acdi = children(root(), "acdi").get(0);
    assertEquals(4, number(acdi, "fixed", 4));
    assertEquals(2, number(acdi, "var", 2));
    assertEquals("04", tool().read("FC", 0, 1));
    assertEquals("02", tool().read("FB", 0, 1));
  }

  private static Element root() throws Exception {
    return DocumentBuilderFactory.newInstance()
        .newDocumentBuilder()
        .parse(new InputSource(new StringReader(description())))
        .getDocumentElement();
  }

  private static int number(Element element, String attribute, int usual) {
    String text = element.getAttribute(attribute);
    return text.isEmpty() ? usual : Integer.parseInt(text);
  }

  private static String textOf(Element parent, String tag) {
    return children(parent, tag).get(0).getTextContent();
  }

  private static List<Element> children(Element parent, String tag) {
    return elements(parent).stream().filter(child -> child.getTagName().equals(tag)).toList();
  }

  private static List<Element> elements(Element parent) {
    List<Element> elements = new ArrayList<>();
    for (Node node = parent.getFirstChild(); node != null; node = node.getNextSibling()) {
      if (node instanceof Element child) {
        elements.add(child);
      }
    }
    return elements;
  }
}
