package tappet.bridge.box;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.io.StringReader;
import java.util.Map;
import java.util.Properties;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The judge is Java's own reader of such files. */
final class PropertyTextTest {

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "rail work",
        "  two blanks first, one last ",
        "C:\\signals\\new\\",
        "a = b : c # d ! e",
        "#no remark",
        "two\nlines\r\n\tand a tab\f",
        "Bahnhöfe 駅 🚂"
      })
  void whatIsWrittenIsReadAgain(String value) throws IOException {
    Properties read = new Properties();
    read.load(
        new StringReader(PropertyText.of("a title", Map.of("some.key", value, "other", "x"))));
    assertEquals(Map.of("some.key", value, "other", "x"), read);
  }

  @Test
  void sameFactsAreTheSameText() {
    assertEquals("# a title\na=1\nb=2\n", PropertyText.of("a title", Map.of("b", "2", "a", "1")));
  }
}
