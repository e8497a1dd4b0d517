package tappet.bridge;

import io.netty.buffer.Unpooled;
import java.util.List;
import org.slf4j.LoggerFactory;
import tappet.sentence.Sentences;
import tappet.source.Place;
import tappet.source.Problems;
import tappet.source.Sha256;
import tappet.source.YamlReader;

/**
 * Has ready beside the reading of the command line what every daemon needs, what takes long the
 * first time, and what depends on no file.
 */
final class HeadStart {

  /** The commands that run a daemon. */
  private static final List<String> DAEMONS = List.of("run", "demo");

  private HeadStart() {}

  /** Begins, if the command is one that runs a daemon. */
  static void of(String command) {
    if (DAEMONS.contains(command)) {
      Thread beside = new Thread(HeadStart::run, "head start");
      beside.setDaemon(true);
      beside.start();
    }
  }

  /**
   * In the order in which it is needed: YAML, sentences, check sums, log, and network; and what
   * Java makes at run time of records that are keys.
   */
  private static void run() {
    Problems none = new Problems();
    var file = YamlReader.read("head start", "{key: [value, value]}", none);
    var sentence = Sentences.condition("section a is clear", Place.inText("", 1), none);
    String sum = Sha256.digits(String.valueOf(file.hashCode()));
    LoggerFactory.getLogger(HeadStart.class).debug("{} {}", sentence, sum);
    Unpooled.buffer(0).release();
  }
}
