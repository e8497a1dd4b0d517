package tappet.bridge.box;

import java.io.IOException;
import java.io.StringReader;
import java.util.Map;
import java.util.Properties;
import java.util.TreeMap;

/**
 * Facts as the lines of a properties file, the same text for the same facts. What {@link
 * java.util.Properties} would write has the time on top, for whose zone it reads the names of all
 * the world's places.
 */
public final class PropertyText {

  private PropertyText() {}

  /**
   * What {@link java.util.Properties#load(java.io.Reader)} takes for these facts.
   *
   * @param title what they are, in one line
   * @param facts by key, of letters, digits and dots
   */
  public static String of(String title, Map<String, String> facts) {
    StringBuilder text = new StringBuilder("# ").append(title).append('\n');
    new TreeMap<>(facts)
        .forEach((key, value) -> text.append(key).append('=').append(escaped(value)).append('\n'));
    return text.toString();
  }

  /**
   * The facts of such a text, in the order of their keys; they may be changed.
   *
   * @throws IllegalArgumentException if it is none
   */
  public static Map<String, String> facts(String text) {
    Properties read = new Properties();
    try {
      read.load(new StringReader(text));
    } catch (IOException e) {
      throw new IllegalArgumentException(e);
    }
    Map<String, String> facts = new TreeMap<>();
    for (String key : read.stringPropertyNames()) {
      facts.put(key, read.getProperty(key));
    }
    return facts;
  }

  /** What ends a line, and a blank at the beginning, would be lost. */
  private static String escaped(String value) {
    String escaped =
        value
            .replace("\\", "\\\\")
            .replace("\n", "\\n")
            .replace("\r", "\\r")
            .replace("\t", "\\t")
            .replace("\f", "\\f");
    return escaped.startsWith(" ") ? "\\" + escaped : escaped;
  }
}
