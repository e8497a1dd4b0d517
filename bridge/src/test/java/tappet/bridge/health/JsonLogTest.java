package tappet.bridge.health;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.joran.JoranConfigurator;
import ch.qos.logback.classic.util.LogbackMDCAdapter;
import ch.qos.logback.core.joran.spi.JoranException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;

/** The log as a machine reads it, once an owner has exchanged the encoders in the file. */
class JsonLogTest {

  private static final ObjectMapper JSON = new ObjectMapper();

  @Test
  void eachProblemIsOneLineAndEachLineOneObject() throws Exception {
    String[] lines = logged().split("\n");

    assertEquals(2, lines.length, String.join("\n", lines));
    JsonNode up = JSON.readTree(lines[0]);
    assertEquals("INFO", up.path("level").asText());
    assertEquals("\"cable\" is up", up.path("formattedMessage").asText());
    JsonNode fault = JSON.readTree(lines[1]);
    assertEquals("ERROR", fault.path("level").asText());
    assertEquals("two\nlines", fault.path("formattedMessage").asText());
    assertEquals("on purpose", fault.path("throwable").path("message").asText());
    assertFalse(fault.path("timestamp").isMissingNode());
  }

  private static String logged() throws IOException, JoranException {
    LoggerContext context = new LoggerContext();
    context.setMDCAdapter(new LogbackMDCAdapter());
    PrintStream usual = System.out;
    var out = new ByteArrayOutputStream();
    try (var written = new PrintStream(out, true, StandardCharsets.UTF_8)) {
      System.setOut(written);
      JoranConfigurator configurator = new JoranConfigurator();
      configurator.setContext(context);
      configurator.doConfigure(
          new ByteArrayInputStream(forMachines().getBytes(StandardCharsets.UTF_8)));
      Logger logger = context.getLogger("tappet");
      logger.info("{} is up", "\"cable\"");
      logger.error("two\nlines", new IllegalStateException("on purpose"));
    } finally {
      System.setOut(usual);
      context.stop();
    }
    return out.toString(StandardCharsets.UTF_8);
  }

  /** As the file says to do it: the one encoder out of its comment, the other away. */
  private static String forMachines() throws IOException {
    String text = Files.readString(Path.of("..", "config", "logback.xml"));
    return text.replaceFirst("(?s)<encoder>.*?</encoder>", "")
        .replaceFirst("(?s)<!-- (<encoder .*?) -->", "$1");
  }
}
