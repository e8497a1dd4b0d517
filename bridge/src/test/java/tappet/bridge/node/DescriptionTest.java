package tappet.bridge.node;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.StringReader;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import javax.xml.XMLConstants;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.transform.stream.StreamSource;
import javax.xml.validation.SchemaFactory;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Element;
import org.w3c.dom.Node;
import org.xml.sax.InputSource;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.lcc.EventId;
import tappet.lcc.Identity;
import tappet.source.Problems;

class DescriptionTest {

  private static final Identity IDENTITY =
      new Identity("Tappet", "Signal box", "none", "0.1 <&>", "", "");
  private static final int NAME_SIZE = 64;

  private Layout layout;
  private Description description;

  @BeforeEach
  void describeTheDemo() throws Exception {
    String text =
        Files.readString(
            Path.of("..", "shared", "src", "test", "resources", "plain", "layout.yaml"));
    layout = LayoutReader.read("layout.yaml", text, new Problems()).orElseThrow();
    description = Description.of(IDENTITY, layout);
  }

  // S-9.7.4.1 §5: XML 1.0, the declaration alone on the first line, lines end in 0x0A.
  @Test
  void descriptionBeginsWithTheDeclarationAndHasNoCarriageReturns() {
    assertTrue(description.text().startsWith("<?xml version=\"1.0\"?>\n<cdi "));
    assertFalse(description.text().contains("\r"));
    assertFalse(description.text().contains("\0"));
  }

  // S-9.7.4.1 §5.1 and Appendix A; the schema file restates the sheet's table of elements.
  @Test
  void descriptionIsValidByItsSchema() throws Exception {
    var schema =
        SchemaFactory.newInstance(XMLConstants.W3C_XML_SCHEMA_NS_URI)
            .newSchema(getClass().getResource("/description.xsd"));
    schema.newValidator().validate(new StreamSource(new StringReader(description.text())));
  }

  // S-9.7.4.1 §5.1.4: each variable lies where the elements before it end.
  @Test
  void everyEventOfTheLayoutLiesAtTheAddressThatTheDescriptionGivesIt() throws Exception {
    Map<String, EventId> found = new LinkedHashMap<>();
    walk(document().getDocumentElement(), "", new int[1], found);

    Map<String, EventId> expected = new LinkedHashMap<>();
    layout
        .sections()
        .forEach(
            (id, section) -> {
              expected.put("/Sections/" + id + "/Occupied", section.occupied());
              expected.put("/Sections/" + id + "/Clear", section.clear());
            });
    layout
        .switches()
        .forEach(
            (id, toe) -> {
              toe.to()
                  .forEach((at, to) -> expected.put("/Switches/" + id + "/To " + at.word(), to));
              toe.at()
                  .forEach((at, is) -> expected.put("/Switches/" + id + "/At " + at.word(), is));
            });
    layout
        .signals()
        .forEach(
            (id, signal) ->
                signal
                    .shows()
                    .forEach(
                        (aspect, event) ->
                            expected.put("/Signals/" + id + "/Shows " + aspect, event)));
    assertEquals(expected, found);
  }

  // S-9.7.4.1 §5.1, §5.1.4.
  @Test
  void otherDevicesAreDescribedToo() throws Exception {
    String text = Files.readString(Path.of("src", "test", "resources", "lineside", "layout.yaml"));
    layout = LayoutReader.read("layout.yaml", text, new Problems()).orElseThrow();
    description = Description.of(IDENTITY, layout);
    descriptionIsValidByItsSchema();

    Map<String, EventId> found = new LinkedHashMap<>();
    walk(document().getDocumentElement(), "", new int[1], found);
    var devices = layout.lineside();
    assertEquals(
        devices.districts().get("west").tripped(), found.get("/Power districts/west/Tripped"));
    assertEquals(
        devices.openings().get("doorway").lock().orElseThrow().unlock(),
        found.get("/Openings/doorway/To unlock"));
    assertEquals(devices.lamps().get("full").dark(), found.get("/Lamps/full/Dark"));
    assertEquals(devices.buttons().get("call").released(), found.get("/Buttons/call/Released"));
    assertEquals(
        devices.spots().get("bell").tells().get("west"), found.get("/Spot detectors/bell/West"));
    assertEquals(
        devices.crossings().get("mill-road").rest(), found.get("/Grade crossings/mill-road/Rest"));
  }

  @Test
  void lampsAndTheirProvingAreDescribed() throws Exception {
    String text = Files.readString(Path.of("src", "test", "resources", "lamps", "layout.yaml"));
    Layout lamps = LayoutReader.read("layout.yaml", text, new Problems()).orElseThrow();
    String written = Description.of(IDENTITY, lamps).text();
    for (String name :
        List.of("red lit", "yellow dark", "red has failed", "red works", "Dark", "Shows stop")) {
      assertTrue(written.contains("<name>" + name + "</name>"), name);
    }
  }

  @Test
  void whatASwitchHasNotIsNotDescribed() {
    String text =
        """
        layout: 1
        name: Small
        joints: {a: [0, 0], b: [2, 0], c: [2, 1]}
        sections:
          os: {length: 1 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
        switches:
          q:
            section: os
            points: a
            normal: b
            reverse: c
            control: released
            lock: {to: {release: 0A.00.00.00.00.01.41.00, secure: 0A.00.00.00.00.01.41.01}, assumed after: 2 s}
            at: {normal: 0A.00.00.00.00.01.31.00, reverse: 0A.00.00.00.00.01.31.01}
        """;
    Layout small = LayoutReader.read("layout.yaml", text, new Problems()).orElseThrow();
    String described = Description.of(IDENTITY, small).text();
    assertTrue(described.contains("<name>To release</name>"));
    assertTrue(described.contains("<name>At reverse</name>"));
    assertFalse(described.contains("<name>To reverse</name>"));
    assertFalse(described.contains("<name>Lock secured</name>"));
  }

  @Test
  void everyGroupIsReadOnly() throws Exception {
    var groups = document().getElementsByTagName("group");
    for (int index = 0; index < groups.getLength(); index++) {
      var group = (Element) groups.item(index);
      assertEquals(1, children(group, "hints").size());
    }
  }

  @Test
  void namesAreClosedByAZeroByteAndNeverCutWithinACharacter() throws Exception {
    String longName = "ü".repeat(40);
    String text =
        Files.readString(
                Path.of("..", "shared", "src", "test", "resources", "plain", "layout.yaml"))
            .replace("name: Fallow 1\n", "name: " + longName + "\n");
    Layout renamed = LayoutReader.read("layout.yaml", text, new Problems()).orElseThrow();
    byte[] content = Description.of(IDENTITY, renamed).content();
    int end = 0;
    while (content[end] != 0) {
      end++;
    }
    assertEquals("ü".repeat(31), new String(content, 0, end, StandardCharsets.UTF_8));
  }

  private org.w3c.dom.Document document() throws Exception {
    return DocumentBuilderFactory.newInstance()
        .newDocumentBuilder()
        .parse(new InputSource(new StringReader(description.text())));
  }

  private void walk(Element element, String path, int[] address, Map<String, EventId> found) {
    for (Element child : elements(element)) {
      switch (child.getTagName()) {
        case "segment" -> walk(child, path, address, found);
        case "group" -> walk(child, path + "/" + name(child), address, found);
        case "string" -> address[0] += Integer.parseInt(child.getAttribute("size"));
        case "eventid" -> found.put(path + "/" + name(child), event(address));
        default -> {
          // Names and hints take no room.
        }
      }
    }
    assertTrue(address[0] % Long.BYTES == 0 && NAME_SIZE % Long.BYTES == 0);
  }

  private EventId event(int[] address) {
    address[0] += Long.BYTES;
    return new EventId(ByteBuffer.wrap(description.content()).getLong(address[0] - Long.BYTES));
  }

  private static String name(Element element) {
    return children(element, "name").get(0).getTextContent();
  }

  private static List<Element> children(Element element, String tag) {
    return elements(element).stream().filter(child -> child.getTagName().equals(tag)).toList();
  }

  private static List<Element> elements(Element element) {
    List<Element> elements = new ArrayList<>();
    for (Node node = element.getFirstChild(); node != null; node = node.getNextSibling()) {
      if (node instanceof Element child) {
        elements.add(child);
      }
    }
    return elements;
  }
}
