package tappet.bridge.view;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.BiFunction;
import tappet.bridge.box.KeptLines;

/** What people have written on the chart as text that outlives the daemon. */
public final class ChartText {

  private static final String BLANK = " ";
  private static final String TRAIN = "train";
  private static final String ALARM = "alarm.seen";
  private static final String ASKED = "asked";
  private static final String RELEASED = "released";

  private ChartText() {}

  /** The text of what is kept. */
  public static String of(KeptChart chart) {
    KeptLines lines = KeptLines.empty();
    lines.put(TRAIN, chart.trains().size());
    for (int index = 0; index < chart.trains().size(); index++) {
      KeptChart.Train train = chart.trains().get(index);
      lines.put(key(TRAIN, index, "name"), train.name());
      lines.put(key(TRAIN, index, "on"), String.join(BLANK, train.on()));
      lines.put(key(TRAIN, index, "lost"), train.lost());
    }
    lines.put(ALARM, chart.seen().size());
    for (int index = 0; index < chart.seen().size(); index++) {
      KeptChart.Seen seen = chart.seen().get(index);
      lines.put(key(ALARM, index, "words"), seen.alarm());
      lines.put(key(ALARM, index, "since"), seen.sinceMs());
      lines.put(key(ALARM, index, "by"), seen.by());
    }
    lines.put(ASKED, chart.asked().size());
    for (int index = 0; index < chart.asked().size(); index++) {
      KeptChart.Asked asked = chart.asked().get(index);
      lines.put(key(ASKED, index, "number"), asked.number());
      lines.put(key(ASKED, index, "by"), asked.holder());
      lines.put(key(ASKED, index, "sentence"), asked.sentence());
      lines.put(key(ASKED, index, "at"), asked.atMs());
    }
    List<Map.Entry<String, String>> releases = List.copyOf(chart.releases().entrySet());
    lines.put(RELEASED, releases.size());
    for (int index = 0; index < releases.size(); index++) {
      lines.put(key(RELEASED, index, "switch"), releases.get(index).getKey());
      lines.put(key(RELEASED, index, "to"), releases.get(index).getValue());
    }
    return lines.text("What people wrote on the chart; written by Tappet");
  }

  /**
   * Reads what {@link #of} has written.
   *
   * @throws IllegalArgumentException if it is anything else, saying what is wrong
   */
  public static KeptChart read(String text) {
    KeptLines lines = KeptLines.read(text);
    Map<String, String> releases = new LinkedHashMap<>();
    for (int index = 0; index < lines.number(RELEASED); index++) {
      releases.put(
          lines.get(key(RELEASED, index, "switch")), lines.get(key(RELEASED, index, "to")));
    }
    return new KeptChart(
        each(TRAIN, lines, ChartText::train),
        each(ALARM, lines, ChartText::seen),
        each(ASKED, lines, ChartText::asked),
        releases);
  }

  private static <T> List<T> each(
      String kind, KeptLines lines, BiFunction<KeptLines, Integer, T> one) {
    List<T> all = new ArrayList<>();
    for (int index = 0; index < lines.number(kind); index++) {
      all.add(one.apply(lines, index));
    }
    return all;
  }

  private static KeptChart.Train train(KeptLines lines, int index) {
    return new KeptChart.Train(
        lines.get(key(TRAIN, index, "name")),
        List.of(lines.get(key(TRAIN, index, "on")).split(BLANK)),
        Boolean.parseBoolean(lines.get(key(TRAIN, index, "lost"))));
  }

  private static KeptChart.Seen seen(KeptLines lines, int index) {
    return new KeptChart.Seen(
        lines.get(key(ALARM, index, "words")),
        lines.number(key(ALARM, index, "since")),
        lines.get(key(ALARM, index, "by")));
  }

  private static KeptChart.Asked asked(KeptLines lines, int index) {
    return new KeptChart.Asked(
        lines.number(key(ASKED, index, "number")),
        lines.get(key(ASKED, index, "by")),
        lines.get(key(ASKED, index, "sentence")),
        lines.number(key(ASKED, index, "at")));
  }

  private static String key(String kind, int index, String fact) {
    return kind + "." + index + "." + fact;
  }
}
