package tappet.source;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

class ValueTest {

  private final Problems problems = new Problems();

  // Definitions: 1 ft = 0.3048 m and 1 in = 25.4 mm exactly (international yard, 1959; from
  // memory).
  @ParameterizedTest
  @CsvSource({"3.2 m, 3.2", "320 cm, 3.2", "5mm, 0.005", "2 ft, 0.6096", "10 in, 0.254"})
  void lengthIsReadInMetres(String text, double metres) {
    assertEquals(metres, only(text, Value::metres).orElseThrow(), 1e-9);
  }

  @ParameterizedTest
  @CsvSource({
    "12 s, PT12S",
    "500 ms, PT0.5S",
    "2 min, PT2M",
    "1.5s, PT1.5S",
    "1 h, PT1H",
    "0 s, PT0S"
  })
  void timeIsReadAsDuration(String text, Duration duration) {
    assertEquals(duration, only(text, Value::duration).orElseThrow());
  }

  @Test
  void wordsAndNumbersAreRead() {
    assertEquals(-3.5, only("-3.5", Value::number).orElseThrow());
    assertEquals(12021, only("12021", value -> value.wholeNumber(1, 65535)).orElseThrow());
    assertEquals(true, only("yes", Value::yesOrNo).orElseThrow());
    assertEquals(false, only("false", Value::yesOrNo).orElseThrow());
    assertEquals("t2e", only("t2e", Value::identifier).orElseThrow().value());
    assertEquals(
        "up", only("up", value -> value.word(List.of("up", "down"))).orElseThrow().value());
  }

  static Stream<Arguments> wrongValues() {
    return Stream.of(
        wrong("", Value::text, "f:1:1: 'key' is empty; write for example 'key: example'"),
        wrong(
            "[a]",
            Value::text,
            "f:1:6: 'key' is a list, not a single value; write for example 'key: example'"),
        wrong(
            "{a: b}",
            Value::text,
            "f:1:6: 'key' is a set of keys, not a single value; write for example 'key: example'"),
        wrong(
            "3.2",
            Value::metres,
            "f:1:6: '3.2' is not a length above 0 with its unit (m, cm, mm, ft, in); write for example 'key: example'"),
        wrong(
            "0 m",
            Value::metres,
            "f:1:6: '0 m' is not a length above 0 with its unit (m, cm, mm, ft, in); write for example 'key: example'"),
        wrong(
            "3 parsec",
            Value::metres,
            "f:1:6: '3 parsec' is not a length above 0 with its unit (m, cm, mm, ft, in); write for example 'key: example'"),
        wrong(
            "-1 s",
            Value::duration,
            "f:1:6: '-1 s' is not a time with its unit (ms, s, min, h); write for example 'key: example'"),
        wrong(
            "999999999 h",
            Value::duration,
            "f:1:6: '999999999 h' is not a time with its unit (ms, s, min, h); write for example 'key: example'"),
        wrong(
            "1e3", Value::number, "f:1:6: '1e3' is not a number; write for example 'key: example'"),
        wrong(
            "70000",
            value -> value.wholeNumber(1, 65535),
            "f:1:6: '70000' is not a whole number from 1 to 65535; write for example 'key: example'"),
        wrong(
            "2.5",
            value -> value.wholeNumber(1, 9),
            "f:1:6: '2.5' is not a whole number from 1 to 9; write for example 'key: example'"),
        wrong(
            "Extra 41",
            Value::identifier,
            "f:1:6: 'Extra 41' cannot be a name; use letters, digits and hyphens between them"),
        wrong(
            "dwon",
            value -> value.word(List.of("up", "down")),
            "f:1:6: 'key' cannot be 'dwon'; did you mean 'down'?"),
        wrong(
            "sideways",
            value -> value.word(List.of("up", "down")),
            "f:1:6: 'key' cannot be 'sideways'; it can be up or down"),
        wrong(
            "[1]",
            value -> Optional.of(value.items(2)),
            "f:1:6: 'key' should have 2 values, not 1; write for example 'key: example'"),
        wrong(
            "a",
            value -> Optional.of(value.items(2)),
            "f:1:6: 'key' is a single value, not a list; write for example 'key: example'"),
        wrong(
            "[a]",
            value -> Optional.of(value.named()),
            "f:1:6: 'key' is a list, not a set of keys; write for example 'key: example'"),
        wrong(
            "a",
            value -> value.read(fields -> true),
            "f:1:6: 'key' is a single value, not a set of keys; write for example 'key: example'"));
  }

  private static Arguments wrong(String text, Function<Value, Optional<?>> reader, String message) {
    return Arguments.of(text, reader, message);
  }

  @ParameterizedTest(name = "{2}")
  @MethodSource("wrongValues")
  void wrongValueIsToldOnce(String text, Function<Value, Optional<?>> reader, String message) {
    only(text, value -> reader.apply(value).map(any -> true));
    assertEquals(message, told());
  }

  @Test
  void everyMistakeOfAnEntryIsToldInOneRun() {
    file("nmae: Tilling\nlength: 3\ncolour: red\n")
        .read(
            fields -> {
              fields.required("name", "Fallow").text();
              fields.required("length", "3.2 m").metres();
              fields.required("detector", "d1").identifier();
              fields.optional("note", "under the bridge").text();
              return true;
            });
    assertEquals(
        """
        f:1:1: the file has no key 'nmae'; did you mean 'name'?
        f:1:1: the file lacks 'detector'; add for example 'detector: d1'
        f:2:9: '3' is not a length above 0 with its unit (m, cm, mm, ft, in); write for example 'length: 3.2 m'
        f:3:1: the file has no key 'colour'; its keys are name, length, detector and note""",
        told());
  }

  @Test
  void emptyListsAndSetsAreNoMistake() {
    assertEquals(List.of(), only("", value -> Optional.of(value.items())).orElseThrow());
    assertEquals(List.of(), only("", value -> Optional.of(value.named())).orElseThrow());
    assertTrue(problems.none());
  }

  private String told() {
    return problems.sorted().stream().map(Problem::toString).collect(Collectors.joining("\n"));
  }

  private <T> Optional<T> only(String text, Function<Value, Optional<T>> reader) {
    return file("key: " + text).read(fields -> fields.required("key", "example")).flatMap(reader);
  }

  private Value file(String text) {
    return Value.ofFile("the file", "f", text, problems);
  }
}
