package tappet.source;

import java.util.List;
import java.util.Optional;
import java.util.function.BiFunction;
import java.util.regex.Pattern;
import org.snakeyaml.engine.v2.exceptions.Mark;
import org.snakeyaml.engine.v2.exceptions.MarkedYamlEngineException;
import org.snakeyaml.engine.v2.exceptions.ReaderException;
import org.snakeyaml.engine.v2.exceptions.YamlEngineException;

/** Says in an owner's words, and with the likely repair, why a text is no YAML. */
final class SyntaxMistake {

  private static final Pattern COLON_WITHOUT_SPACE =
      Pattern.compile("(?:- )?['\"]?([\\w -]+?)['\"]?:([^\\s:].*)");

  private final String file;
  private final List<String> lines;
  private final String text;

  /** What the parser said, and what is made of it; the first one that fits is taken. */
  private record Reading(
      String said, BiFunction<SyntaxMistake, MarkedYamlEngineException, Problem> says) {}

  private static final List<Reading> READINGS =
      List.of(
          new Reading("TAB", SyntaxMistake::tab),
          new Reading("that cannot start any token", SyntaxMistake::oddStart),
          new Reading("found unexpected end of stream", SyntaxMistake::openQuote),
          new Reading("found unexpected document separator", SyntaxMistake::openQuote),
          new Reading("could not find expected ':'", SyntaxMistake::missingColon),
          new Reading("mapping values are not allowed", SyntaxMistake::strayColon),
          new Reading("expected ',' or", SyntaxMistake::openBracket),
          new Reading("expected the node content, but found", SyntaxMistake::missingValue),
          new Reading("sequence entries are not allowed", SyntaxMistake::strayDash),
          new Reading("expected <block end>", SyntaxMistake::unevenIndent),
          new Reading("expected a single document", SyntaxMistake::secondDocument),
          new Reading(BoundedParser.TOO_DEEP, SyntaxMistake::tooDeep),
          new Reading(BoundedParser.ALIAS, SyntaxMistake::alias),
          new Reading(BoundedParser.TAG, SyntaxMistake::tag));

  SyntaxMistake(String file, String text) {
    this.file = file;
    this.text = text;
    this.lines = text.lines().toList();
  }

  Problem problem(YamlEngineException mistake) {
    if (mistake instanceof MarkedYamlEngineException marked) {
      return READINGS.stream()
          .filter(reading -> said(marked).contains(reading.said()))
          .findFirst()
          .map(reading -> reading.says().apply(this, marked))
          .orElseGet(() -> other(marked));
    }
    if (mistake instanceof ReaderException reader) {
      return oddCharacter(reader);
    }
    return new Problem(
        new Place(file, 1, 1), "this is no YAML", "start from a file in config/starter");
  }

  private static String said(MarkedYamlEngineException mistake) {
    return String.valueOf(mistake.getProblem()) + " " + String.valueOf(mistake.getContext());
  }

  private Problem tab(MarkedYamlEngineException mistake) {
    return new Problem(
        found(mistake),
        "a tab stands where spaces belong",
        "indent with two spaces for each level");
  }

  private Problem oddStart(MarkedYamlEngineException mistake) {
    var at = found(mistake);
    if (at.column() <= line(at).length() && line(at).charAt(at.column() - 1) == '\t') {
      return tab(mistake);
    }
    return new Problem(
        at, "a text cannot start with '%s'".formatted(rest(at, 1)), "put quotes around the text");
  }

  private Problem openQuote(MarkedYamlEngineException mistake) {
    var at = opened(mistake);
    return new Problem(
        at, "this quote is never closed", "add %s at the end of the text".formatted(rest(at, 1)));
  }

  private Problem missingColon(MarkedYamlEngineException mistake) {
    var at = opened(mistake);
    var line = line(at).strip();
    var squeezed = COLON_WITHOUT_SPACE.matcher(line);
    if (squeezed.matches()) {
      return new Problem(
          at,
          "a space is missing after the colon",
          "write '%s: %s'".formatted(squeezed.group(1), squeezed.group(2)));
    }
    return new Problem(
        at, "'%s' has no colon".formatted(shortened(line)), "write a key, a colon and a value");
  }

  private Problem strayColon(MarkedYamlEngineException mistake) {
    return new Problem(
        found(mistake),
        "a colon cannot stand here",
        "put quotes around a text with a colon in it, or see whether the line above lacks its colon"
            + " or this line is indented too far");
  }

  private Problem openBracket(MarkedYamlEngineException mistake) {
    var open = opened(mistake);
    var found = found(mistake);
    var closing = rest(open, 1).equals("[") ? "]" : "}";
    boolean goesOn = open.line() == found.line() && !"]}".contains(rest(found, 1));
    if (goesOn) {
      return new Problem(
          found,
          "a comma or '%s' is missing before this".formatted(closing),
          "separate the values with commas and close with '%s'".formatted(closing));
    }
    return new Problem(
        open,
        "this '%s' is never closed".formatted(rest(open, 1)),
        "add '%s' behind its last value".formatted(closing));
  }

  private Problem missingValue(MarkedYamlEngineException mistake) {
    return new Problem(
        found(mistake),
        "a value is missing before '%s'".formatted(rest(found(mistake), 1)),
        "write the value, or put quotes around a text that has such signs in it");
  }

  private Problem strayDash(MarkedYamlEngineException mistake) {
    return new Problem(
        found(mistake),
        "a list cannot start here",
        "put each '- ' on a line of its own, below its key");
  }

  private Problem unevenIndent(MarkedYamlEngineException mistake) {
    var at = found(mistake);
    var above = opened(mistake);
    if (line(at).substring(0, at.column() - 1).isBlank()) {
      return new Problem(
          at,
          "this line is not in line with those it belongs to",
          "line it up with line %d or with line %d".formatted(above.line(), at.line() - 1));
    }
    return new Problem(
        at,
        "'%s' does not fit behind what stands before it".formatted(shortened(rest(at, 20))),
        "put quotes around the whole text, or check commas and brackets");
  }

  private Problem secondDocument(MarkedYamlEngineException mistake) {
    return new Problem(
        found(mistake),
        "a second document starts here",
        "remove the line '---': one file, one document");
  }

  private Problem tooDeep(MarkedYamlEngineException mistake) {
    return new Problem(
        found(mistake),
        "this is nested deeper than %d levels".formatted(BoundedParser.DEPTH_MAX),
        "look for brackets that were never closed");
  }

  private Problem alias(MarkedYamlEngineException mistake) {
    return new Problem(
        found(mistake),
        "'*' refers to another part of the file, which is not supported",
        "write the value out, or put quotes around a text that starts with '*'");
  }

  private Problem tag(MarkedYamlEngineException mistake) {
    return new Problem(
        found(mistake),
        "'!' names a type of YAML, which is not supported",
        "remove it, or put quotes around a text that starts with '!'");
  }

  private Problem other(MarkedYamlEngineException mistake) {
    return new Problem(
        anywhere(mistake),
        "this is no YAML (%s)".formatted(mistake.getProblem()),
        "compare the line with its neighbours, and put quotes around texts with odd signs");
  }

  private Problem oddCharacter(ReaderException mistake) {
    var before = text.substring(0, Math.min(mistake.getPosition(), text.length()));
    int line = (int) before.chars().filter(letter -> letter == '\n').count() + 1;
    return new Problem(
        new Place(file, line, before.length() - before.lastIndexOf('\n')),
        "a character that cannot be printed stands here (U+%04X)".formatted(mistake.getCodePoint()),
        "remove it");
  }

  private Place found(MarkedYamlEngineException mistake) {
    return YamlReader.place(file, mistake.getProblemMark());
  }

  private Place opened(MarkedYamlEngineException mistake) {
    return YamlReader.place(file, mistake.getContextMark().or(mistake::getProblemMark));
  }

  private Place anywhere(MarkedYamlEngineException mistake) {
    Optional<Mark> mark = mistake.getProblemMark().or(mistake::getContextMark);
    return YamlReader.place(file, mark);
  }

  private String line(Place at) {
    return at.line() <= lines.size() ? lines.get(at.line() - 1) : "";
  }

  private String rest(Place at, int length) {
    var line = line(at);
    int start = Math.min(at.column() - 1, line.length());
    return line.substring(start, Math.min(start + length, line.length()));
  }

  private static String shortened(String text) {
    return text.length() <= 30 ? text : text.substring(0, 30) + "…";
  }
}
