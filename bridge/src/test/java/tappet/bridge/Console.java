package tappet.bridge;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;

/**
 * One command, run as {@link Tappet#main} runs it, and what it left behind.
 *
 * @param status the exit status
 * @param out what it wrote to the standard output
 * @param err what it wrote to the standard error
 */
record Console(int status, String out, String err) {

  static Console run(String... arguments) {
    return runIn(StandardCharsets.UTF_8, arguments);
  }

  /** The same on a console that shows these letters only; what is written is read as UTF-8. */
  static Console runIn(Charset shown, String... arguments) {
    PrintStream usualOut = System.out;
    PrintStream usualErr = System.err;
    var out = new ByteArrayOutputStream();
    var err = new ByteArrayOutputStream();
    try (var newOut = new PrintStream(out, true, shown);
        var newErr = new PrintStream(err, true, shown)) {
      System.setOut(newOut);
      System.setErr(newErr);
      int status = Tappet.execute(arguments);
      return new Console(status, text(out), text(err));
    } finally {
      System.setOut(usualOut);
      System.setErr(usualErr);
    }
  }

  private static String text(ByteArrayOutputStream written) {
    return written.toString(StandardCharsets.UTF_8);
  }
}
