package tappet.bridge.node;

import java.io.ByteArrayOutputStream;
import java.io.StringWriter;
import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.StandardCharsets;
import java.util.Locale;
import javax.xml.stream.XMLOutputFactory;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamWriter;
import tappet.layout.ElectricLock;
import tappet.layout.LampProving;
import tappet.layout.Layout;
import tappet.layout.Lights;
import tappet.layout.Lineside;
import tappet.layout.LinesideDevice;
import tappet.layout.Section;
import tappet.layout.Signal;
import tappet.layout.SignalLamp;
import tappet.layout.Switch;
import tappet.lcc.EventId;
import tappet.lcc.Identity;
import tappet.lcc.memory.AddressSpace;

/**
 * What configuration tools are told of the layout: the description (S-9.7.4.1, schema 1.4), and the
 * bytes it describes, written side by side so that each variable lies where the description says.
 *
 * <p>Names and event ids of devices are read only. The layout file is where they are written, and a
 * tool that could change them here would make the two differ.
 */
final class Description {

  private static final String SCHEMA = "https://openlcb.org/schema/cdi/1/4/cdi.xsd";
  private static final String SCHEMA_INSTANCE = "http://www.w3.org/2001/XMLSchema-instance";
  private static final int NAME_SIZE = 64;

  private final StringWriter text = new StringWriter();
  private final XMLStreamWriter xml;
  private final ByteArrayOutputStream content = new ByteArrayOutputStream();

  private Description(Identity identity, Layout layout) throws XMLStreamException {
    text.write("<?xml version=\"1.0\"?>\n");
    xml = XMLOutputFactory.newInstance().createXMLStreamWriter(text);
    open("cdi");
    xml.writeAttribute("xmlns:xsi", SCHEMA_INSTANCE);
    xml.writeAttribute("xsi:noNamespaceSchemaLocation", SCHEMA);
    write(identity);
    open("acdi");
    close();
    write(layout);
    close();
    xml.flush();
  }

  /** Writes both. */
  static Description of(Identity identity, Layout layout) {
    try {
      return new Description(identity, layout);
    } catch (XMLStreamException e) {
      throw new IllegalStateException("a description is written to memory and cannot fail", e);
    }
  }

  /** The description as XML. */
  String text() {
    return text.toString();
  }

  /** The configuration space that it describes. */
  byte[] content() {
    return content.toByteArray();
  }

  private void write(Identity identity) throws XMLStreamException {
    open("identification");
    element("manufacturer", identity.manufacturer());
    element("model", identity.model());
    element("hardwareVersion", identity.hardwareVersion());
    element("softwareVersion", identity.softwareVersion());
    close();
  }

  private void write(Layout layout) throws XMLStreamException {
    open("segment");
    xml.writeAttribute("space", String.valueOf(AddressSpace.CONFIGURATION));
    element("name", "Layout");
    element("description", "What the layout file says. Change it there: " + layout.file());
    openGroup("Sections");
    for (Section section : layout.sections().values()) {
      write(section);
    }
    close();
    openGroup("Switches");
    for (Switch toe : layout.switches().values()) {
      write(toe);
    }
    close();
    openGroup("Signals");
    for (Signal signal : layout.signals().values()) {
      write(signal);
    }
    close();
    write(layout.lineside());
    close();
  }

  /** Kinds of which the layout has none are left out: a group must not be empty. */
  private void write(Lineside lineside) throws XMLStreamException {
    for (var kind : lineside.byKind().entrySet()) {
      if (!kind.getValue().isEmpty()) {
        openGroup(kind.getKey());
        for (LinesideDevice device : kind.getValue()) {
          write(device);
        }
        close();
      }
    }
  }

  private void write(LinesideDevice device) throws XMLStreamException {
    openDevice(device.id(), device.name());
    for (var told : device.told().entrySet()) {
      event(capital(told.getKey()), told.getValue());
    }
    for (var tells : device.tells().entrySet()) {
      event(capital(tells.getKey()), tells.getValue());
    }
    close();
  }

  private static String capital(String word) {
    return word.substring(0, 1).toUpperCase(Locale.ROOT) + word.substring(1);
  }

  private void write(Section section) throws XMLStreamException {
    openDevice(section.id(), section.name());
    event("Occupied", section.occupied());
    event("Clear", section.clear());
    close();
  }

  private void write(Switch toe) throws XMLStreamException {
    openDevice(toe.id(), toe.name());
    for (var to : toe.to().entrySet()) {
      event("To " + to.getKey().word(), to.getValue());
    }
    for (var at : toe.at().entrySet()) {
      event("At " + at.getKey().word(), at.getValue());
    }
    for (var asks : toe.working().asks().entrySet()) {
      event("Asks for " + asks.getKey().word(), asks.getValue());
    }
    if (toe.lock().isPresent()) {
      write(toe.lock().get());
    }
    close();
  }

  private void write(ElectricLock lock) throws XMLStreamException {
    for (var to : lock.to().entrySet()) {
      event("To " + to.getKey().order(), to.getValue());
    }
    for (var at : lock.at().entrySet()) {
      event("Lock " + at.getKey().word(), at.getValue());
    }
  }

  private void write(Signal signal) throws XMLStreamException {
    openDevice(signal.id(), signal.name());
    for (var shows : signal.shows().entrySet()) {
      event("Shows " + shows.getKey(), shows.getValue());
    }
    if (signal.dark().isPresent()) {
      event("Dark", signal.dark().get());
    }
    if (signal.lights().isPresent()) {
      write(signal.lights().get());
    }
    close();
  }

  private void write(Lights lights) throws XMLStreamException {
    for (SignalLamp lamp : lights.lamps()) {
      event(lamp.id() + " lit", lamp.lit());
      event(lamp.id() + " dark", lamp.dark());
      if (lamp.flashing().isPresent()) {
        event(lamp.id() + " flashing", lamp.flashing().get());
      }
    }
    for (LampProving lamp : lights.provings()) {
      event(lamp.id() + " has failed", lamp.failed());
      event(lamp.id() + " works", lamp.works());
    }
  }

  private void openDevice(String id, String name) throws XMLStreamException {
    openGroup(id);
    open("string");
    xml.writeAttribute("size", String.valueOf(NAME_SIZE));
    element("name", "Name");
    close();
    content.writeBytes(padded(name));
  }

  private void openGroup(String name) throws XMLStreamException {
    open("group");
    element("name", name);
    open("hints");
    open("readOnly");
    close();
    close();
  }

  private void event(String name, EventId event) throws XMLStreamException {
    open("eventid");
    element("name", name);
    close();
    content.writeBytes(ByteBuffer.allocate(Long.BYTES).putLong(event.value()).array());
  }

  private void element(String name, String words) throws XMLStreamException {
    open(name);
    xml.writeCharacters(words);
    close();
  }

  private void open(String name) throws XMLStreamException {
    xml.writeStartElement(name);
  }

  private void close() throws XMLStreamException {
    xml.writeEndElement();
  }

  /** Cut so that a zero byte closes it, and never within a character. */
  private static byte[] padded(String name) {
    ByteBuffer bytes = ByteBuffer.allocate(NAME_SIZE);
    StandardCharsets.UTF_8
        .newEncoder()
        .encode(CharBuffer.wrap(name), bytes.limit(NAME_SIZE - 1), true);
    return bytes.array();
  }
}
