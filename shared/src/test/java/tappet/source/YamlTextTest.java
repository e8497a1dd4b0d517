package tappet.source;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class YamlTextTest {

  // YAML 1.2.2, 7.3.2: a quote is told by two; nothing else is escaped in single quotes.
  @ParameterizedTest
  @ValueSource(
      strings = {"'", "the crew's 'own' switch", "a: b # c", "- {x}", "C:\\n", " yes ", "12:30"})
  void wordsAreReadAsTheyWereWritten(String words) {
    Problems problems = new Problems();
    String text = "words: " + YamlText.quoted(words) + "\n";
    var read =
        Value.ofFile("the file", "file.yaml", text, problems)
            .read(fields -> fields.required("words", "'any'").text().orElseThrow().value());
    assertEquals(words, read.orElseThrow(() -> new AssertionError(problems.sorted())));
  }
}
