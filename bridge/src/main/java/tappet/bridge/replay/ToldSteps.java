package tappet.bridge.replay;

import static tappet.source.YamlText.quoted;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Predicate;

/**
 * The steps of a scenario while it is told. Of what a device is told at one moment only the last
 * can be seen: what is expected waits until its moment is over.
 */
final class ToldSteps {

  private static final String WITHIN = "3 s";

  /** A bolt takes its time. */
  static final String WITHIN_OF_A_BOLT = "20 s";

  private static final String NOBODY = "";

  /**
   * A step, and when it is.
   *
   * @param text as the file has it
   * @param device what it is expected of; empty where nothing is expected
   */
  record Step(long timeUs, String text, String device) {}

  private final Predicate<String> isDeaf;
  private final List<Step> steps = new ArrayList<>();

  /** By device: what it was told at this very moment. */
  private final Map<String, String> justExpected = new LinkedHashMap<>();

  private long expectedUs;

  /**
   * @param isDeaf tells whether a device can hear nothing; nothing is expected of it then
   */
  ToldSteps(Predicate<String> isDeaf) {
    this.isDeaf = isDeaf;
  }

  /** Something happens, is told, or goes wrong. */
  void add(String key, String sentence, long nowUs) {
    add(key + ": " + quoted(sentence), nowUs);
  }

  /** A step as the file has it. */
  void add(String text, long nowUs) {
    if (nowUs != expectedUs) {
      moment();
    }
    insert(text, nowUs);
  }

  /** A step of before, of which nobody knew then. */
  void insert(String text, long timeUs) {
    steps.add(new Step(timeUs, text, NOBODY));
  }

  /** Something comes to be so of a device. */
  void expect(String device, String sentence, long nowUs) {
    if (nowUs != expectedUs) {
      moment();
      expectedUs = nowUs;
    }
    justExpected.remove(device);
    justExpected.put(device, sentence);
  }

  /** The moment is over. */
  void moment() {
    Map<String, String> sentences = new LinkedHashMap<>(justExpected);
    justExpected.clear();
    sentences.forEach(
        (device, sentence) -> {
          if (!isDeaf.test(device)) {
            String within = device.startsWith("opening ") ? WITHIN_OF_A_BOLT : WITHIN;
            steps.add(new Step(expectedUs, expectation(sentence, within), device));
          }
        });
  }

  static String expectation(String sentence, String within) {
    return "{expect: %s, within: %s}".formatted(quoted(sentence), within);
  }

  /** Takes back what was expected of devices since then. */
  void takeBack(Predicate<String> devices, long sinceUs) {
    steps.removeIf(step -> step.timeUs() > sinceUs && devices.test(step.device()));
  }

  /** The scenario begins here. */
  void beginAnew() {
    moment();
    steps.clear();
  }

  /** All of them, in the order of their times. */
  List<Step> inOrder() {
    moment();
    return steps.stream().sorted(Comparator.comparingLong(Step::timeUs)).toList();
  }
}
