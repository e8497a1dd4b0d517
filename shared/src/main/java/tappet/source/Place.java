package tappet.source;

import java.util.Comparator;

/**
 * Where something stands in an owner's file.
 *
 * @param file the file's name as the owner gave it
 * @param line the line, from 1
 * @param column the column, from 1
 */
public record Place(String file, int line, int column) implements Comparable<Place> {

  /** A place in a text that came from no file, such as a typed command. */
  public static Place inText(String what, int column) {
    return new Place(what, 1, column);
  }

  /** In reading order. */
  @Override
  public int compareTo(Place other) {
    return Comparator.comparing(Place::file)
        .thenComparingInt(Place::line)
        .thenComparingInt(Place::column)
        .compare(this, other);
  }

  @Override
  public String toString() {
    return file + ":" + line + ":" + column;
  }
}
