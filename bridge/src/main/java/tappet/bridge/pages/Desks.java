package tappet.bridge.pages;

import io.netty.channel.Channel;
import java.net.InetSocketAddress;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.LongSupplier;
import tappet.bridge.view.Mentions;
import tappet.bridge.view.PlanJson;

/**
 * What all connections share.
 *
 * @param plan what a page needs to draw the railroad, as a JSON object
 * @param notesOf the owner's notes on a place, as HTML
 * @param wallClockMs the time of day, in milliseconds since 1970
 */
record Desks(
    Office office,
    LiveFeed feed,
    Records records,
    StaticFiles files,
    ApiJson json,
    Refusals refusals,
    String plan,
    String openApi,
    Function<String, Optional<String>> notesOf,
    LongSupplier wallClockMs) {

  /** The same for another railroad. */
  Desks of(Pages.Railroad railroad) {
    return new Desks(
        office,
        feed,
        records,
        files,
        new ApiJson(new Mentions(railroad.layout())),
        refusals,
        PlanJson.of(railroad.layout(), railroad.table(), railroad.territories()),
        openApi,
        railroad.notes(),
        wallClockMs);
  }

  long nowMs() {
    return wallClockMs.getAsLong();
  }

  Optional<String> notes(String place) {
    return notesOf.apply(place);
  }

  String health() {
    return ApiJson.health(nowMs(), feed.pages(), feed.cutOff(), refusals);
  }

  PageCounts counts() {
    return new PageCounts(feed.pages(), feed.cutOff(), refusals.byReason());
  }

  /** The address of the other end, without its port. */
  static String addressOf(Channel channel) {
    return channel.remoteAddress() instanceof InetSocketAddress address
        ? address.getAddress().getHostAddress()
        : "";
  }
}
