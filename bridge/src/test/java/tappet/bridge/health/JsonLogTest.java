package tappet.bridge.health;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.util.LogbackMDCAdapter;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

/** The log as a machine reads it, where the owner's settings say so. */
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

  private static String logged() {
    LoggerContext context = new LoggerContext();
    context.setMDCAdapter(new LogbackMDCAdapter());
    PrintStream usual = System.out;
    var out = new ByteArrayOutputStream();
    try (var written = new PrintStream(out, true, StandardCharsets.UTF_8)) {
      System.setOut(written);
      LogSetup.write(context, LogSetup.Form.LINES);
      LogSetup.write(context, LogSetup.Form.JSON);
      Logger logger = context.getLogger("tappet");
      logger.info("{} is up", "\"cable\"");
      logger.error("two\nlines", new IllegalStateException("on purpose"));
    } finally {
      System.setOut(usual);
      context.stop();
    }
    return out.toString(StandardCharsets.UTF_8);
  }
}
