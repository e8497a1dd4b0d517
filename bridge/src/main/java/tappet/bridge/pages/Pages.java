package tappet.bridge.pages;

import io.netty.channel.ChannelHandlerContext;
import io.netty.channel.EventLoop;
import io.netty.handler.codec.http.HttpMessage;
import io.netty.handler.codec.http.HttpObjectAggregator;
import io.netty.handler.codec.http.HttpResponseStatus;
import java.io.Closeable;
import java.io.IOException;
import java.io.InputStream;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.function.BooleanSupplier;
import java.util.function.Function;
import tappet.bridge.view.Diary;
import tappet.bridge.view.Mentions;
import tappet.bridge.view.NewsBook;
import tappet.bridge.view.PlanJson;
import tappet.bridge.web.HttpListener;
import tappet.layout.Layout;
import tappet.rules.ControlTable;

/** The server of the pages and of the interface that they use. */
public final class Pages implements Closeable {

  /** The port it listens on unless the owner says otherwise. */
  public static final int PORT = 12088;

  /** Longer than any sentence, with room for a crew's reason. */
  private static final int BODY_MAX = 8_192;

  private final ExecutorService slowly =
      Executors.newSingleThreadExecutor(
          work -> {
            Thread thread = new Thread(work, "pins");
            thread.setDaemon(true);
            return thread;
          });
  private final EventLoop loop;
  private final Gate gate;
  private volatile Desks desks;
  private final HttpListener listener;

  private Pages(
      EventLoop loop, InetSocketAddress at, Desks desks, Pins pins, Territories territories)
      throws IOException {
    this.loop = loop;
    this.desks = desks;
    this.gate = new Gate(pins, territories, slowly, loop, System::nanoTime);
    this.listener =
        HttpListener.open(
            loop, at, "the pages", () -> List.of(whole(), new PageHandler(() -> this.desks, gate)));
  }

  /**
   * What the pages show that does not change.
   *
   * @param territories the places of each territory
   * @param notes the owner's notes on a place, as HTML
   */
  public record Railroad(
      Layout layout,
      ControlTable table,
      Map<String, List<String>> territories,
      Function<String, Optional<String>> notes) {}

  /**
   * Listens at this address; port 0 takes any free one. Not to be called on the loop.
   *
   * @param boxAnswers whether what is seen is how things are now; from any thread
   * @throws IOException if the address is taken or not of this machine
   */
  public static Pages open(
      EventLoop loop,
      InetSocketAddress at,
      Railroad railroad,
      Office office,
      BooleanSupplier boxAnswers,
      NewsStand news,
      Pins pins)
      throws IOException {
    Records records = new Records(new Diary(railroad.layout()), new NewsBook());
    LiveFeed feed =
        new LiveFeed(
            loop, office, news, records, boxAnswers, System::currentTimeMillis, System::nanoTime);
    Desks desks =
        new Desks(
            office,
            feed,
            records,
            new StaticFiles(),
            new ApiJson(new Mentions(railroad.layout())),
            new Refusals(),
            PlanJson.of(railroad.layout(), railroad.table(), railroad.territories()),
            openApi(),
            railroad.notes(),
            System::currentTimeMillis);
    Pages pages = new Pages(loop, at, desks, pins, territories(railroad));
    feed.start();
    return pages;
  }

  /** Other files have taken over: every page reads the plan again. */
  public void goOn(Railroad railroad) {
    Desks next = desks.of(railroad);
    Territories territories = territories(railroad);
    loop.execute(
        () -> {
          desks = next;
          gate.goOn(territories);
          next.records().diary().goOn(railroad.layout());
          next.feed().beginAnew();
        });
  }

  private static Territories territories(Railroad railroad) {
    return new Territories(railroad.layout(), railroad.table(), railroad.territories());
  }

  private static String openApi() throws IOException {
    try (InputStream found = Pages.class.getResourceAsStream("/page/openapi.json")) {
      return new String(found.readAllBytes(), StandardCharsets.UTF_8);
    }
  }

  /** Where it listens, with the port really taken. */
  public InetSocketAddress address() {
    return listener.address();
  }

  /** What its server has counted; on the event loop of the pages. */
  public PageCounts counts() {
    return desks.counts();
  }

  @Override
  public void close() {
    listener.close();
    slowly.shutdown();
  }

  /** Puts the parts of a request together. One that is too large is not even read to its end. */
  private HttpObjectAggregator whole() {
    return new HttpObjectAggregator(BODY_MAX) {
      @Override
      protected void handleOversizedMessage(ChannelHandlerContext context, HttpMessage oversized) {
        desks.refusals().count(Refusals.Reason.TOO_LARGE);
        Answers.json(
            context,
            HttpResponseStatus.REQUEST_ENTITY_TOO_LARGE,
            ApiJson.text(desks.nowMs(), "that is longer than anything asked here"));
      }
    };
  }
}
