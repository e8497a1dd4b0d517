package tappet.simulator.scenario;

import java.util.Optional;

/** Where scenario files come from. */
@FunctionalInterface
public interface Library {

  /**
   * A file and what is in it.
   *
   * @param file its name as it is told to people, and to {@link #include} when it includes others
   */
  record Text(String file, String text) {}

  /**
   * The file that another one includes.
   *
   * @param from the file that includes it
   * @param name as it is written there
   * @return empty if there is no such file that can be read
   */
  Optional<Text> include(String from, String name);
}
