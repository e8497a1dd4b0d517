package tappet.bridge.measure;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * How fast the box has reacted to frames so far, as the daemon tells in its metrics: from hearing a
 * frame until all that follows from it has been handed to the hub.
 *
 * @param within how many reactions took at most so many seconds
 * @param sumS all of them together
 */
record BoxReactions(SortedMap<Double, Double> within, double sumS) {

  private static final String NAME = "tappet_box_reaction_seconds";
  private static final Pattern BUCKET = Pattern.compile(NAME + "_bucket\\{le=\"([^\"]+)\"} (\\S+)");
  private static final Pattern SUM = Pattern.compile(NAME + "_sum (\\S+)");

  /** Asks the daemon whose metrics are at this port of this machine. */
  static BoxReactions at(int port) throws IOException, InterruptedException {
    URI metrics = URI.create("http://127.0.0.1:" + port + "/metrics");
    String text =
        HttpClient.newHttpClient()
            .send(HttpRequest.newBuilder(metrics).build(), BodyHandlers.ofString())
            .body();
    SortedMap<Double, Double> within = new TreeMap<>();
    for (Matcher bucket = BUCKET.matcher(text); bucket.find(); ) {
      within.put(seconds(bucket.group(1)), Double.parseDouble(bucket.group(2)));
    }
    Matcher sum = SUM.matcher(text);
    if (within.isEmpty() || !sum.find()) {
      throw new IOException("no " + NAME + " in the metrics");
    }
    return new BoxReactions(within, Double.parseDouble(sum.group(1)));
  }

  private static double seconds(String bound) {
    return bound.equals("+Inf") ? Double.POSITIVE_INFINITY : Double.parseDouble(bound);
  }

  BoxReactions since(BoxReactions before) {
    SortedMap<Double, Double> rest = new TreeMap<>(within);
    before.within.forEach((bound, count) -> rest.merge(bound, -count, Double::sum));
    return new BoxReactions(rest, sumS - before.sumS);
  }

  /** How many there were. */
  double count() {
    return within.get(within.lastKey());
  }

  private String shares() {
    return within.entrySet().stream()
        .filter(bucket -> bucket.getKey() <= 0.01)
        .map(
            bucket ->
                "%.2f %% in %.1f ms"
                    .formatted(100 * bucket.getValue() / count(), bucket.getKey() * 1e3))
        .collect(Collectors.joining(", "));
  }

  @Override
  public String toString() {
    return "mean %.0f µs; %s; of %,.0f frames".formatted(sumS / count() * 1e6, shares(), count());
  }
}
