package tappet.bridge.record;

import java.io.IOException;
import java.util.List;

/** Where a {@link Scribe} writes; on the scribe's own thread only. */
public interface Book<T> {

  /** What people know it by. */
  String name();

  /**
   * Writes all of these, or nothing.
   *
   * @param missing so many things before them could not be written, which is to be said in the book
   * @throws IOException if it cannot be written now, in an owner's words; it is tried again with
   *     what comes later
   */
  void append(List<T> entries, long missing) throws IOException;

  /** Nothing more comes. */
  void close() throws IOException;
}
