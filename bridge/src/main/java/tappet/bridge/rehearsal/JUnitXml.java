package tappet.bridge.rehearsal;

import java.io.IOException;
import java.io.StringWriter;
import java.util.List;
import java.util.Locale;
import javax.xml.stream.XMLOutputFactory;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamWriter;

/**
 * How scenarios went, for build servers: the form that the JUnit task of Ant writes, which has no
 * standard but is read everywhere. Times are those of the railroad, in seconds.
 */
public final class JUnitXml {

  private static final double NS_PER_SECOND = 1e9;

  private JUnitXml() {}

  /** The whole text of the file. */
  public static String text(List<Result> results) throws IOException {
    StringWriter text = new StringWriter();
    try {
      XMLStreamWriter xml = XMLOutputFactory.newInstance().createXMLStreamWriter(text);
      xml.writeStartDocument("UTF-8", "1.0");
      write(results, xml);
      xml.writeEndDocument();
      xml.close();
    } catch (XMLStreamException e) {
      throw new IOException(e);
    }
    return text.append('\n').toString();
  }

  private static void write(List<Result> results, XMLStreamWriter xml) throws XMLStreamException {
    long failed = results.stream().filter(result -> !result.passed()).count();
    xml.writeStartElement("testsuite");
    xml.writeAttribute("name", "tappet rehearse");
    xml.writeAttribute("tests", String.valueOf(results.size()));
    xml.writeAttribute("failures", String.valueOf(failed));
    xml.writeAttribute("errors", "0");
    xml.writeAttribute("time", seconds(results.stream().mapToLong(Result::tookNs).sum()));
    for (Result result : results) {
      write(result, xml);
    }
    xml.writeEndElement();
  }

  private static void write(Result result, XMLStreamWriter xml) throws XMLStreamException {
    xml.writeStartElement("testcase");
    xml.writeAttribute("classname", result.scenario().place().file());
    xml.writeAttribute("name", result.scenario().name());
    xml.writeAttribute("time", seconds(result.tookNs()));
    if (!result.passed()) {
      xml.writeStartElement("failure");
      xml.writeAttribute("message", firstLine(result.failure().orElseThrow()));
      xml.writeCharacters(RehearsalReport.text(result));
      xml.writeEndElement();
    }
    xml.writeEndElement();
  }

  private static String firstLine(Failure failure) {
    return failure.place()
        + ": "
        + failure.step()
        + ": "
        + failure.wrong().lines().findFirst().orElse("");
  }

  private static String seconds(long ns) {
    return String.format(Locale.ROOT, "%.3f", ns / NS_PER_SECOND);
  }
}
