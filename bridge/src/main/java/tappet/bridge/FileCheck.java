package tappet.bridge;

import java.io.IOException;
import java.io.PrintStream;
import java.util.Optional;
import tappet.source.Problems;

/** What every command does first: it reads its files, and goes on only where none has a mistake. */
final class FileCheck {

  /** The exit status where a file has a mistake. */
  private static final int MISTAKEN = 1;

  private FileCheck() {}

  /** Reads files; whatever is wrong with them is noted as a problem. */
  interface Reader<T> {
    Optional<T> read(Problems problems) throws IOException;
  }

  /** What a command is for. */
  interface Work<T> {

    /**
     * Does it with files that have no mistake.
     *
     * @return the exit status
     */
    int with(T files) throws IOException;
  }

  /**
   * Reads files, tells every mistake, and does the work where there is none.
   *
   * @return the exit status: that of the work, or {@value #MISTAKEN}
   */
  static <T> int exitStatus(PrintStream told, Reader<T> reader, Work<T> work) throws IOException {
    Problems problems = new Problems();
    Optional<T> files = reader.read(problems);
    problems.sorted().forEach(told::println);
    return problems.none() && files.isPresent() ? work.with(files.get()) : MISTAKEN;
  }
}
