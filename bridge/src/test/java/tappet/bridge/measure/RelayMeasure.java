package tappet.bridge.measure;

import io.netty.channel.MultiThreadIoEventLoopGroup;
import io.netty.channel.nio.NioIoHandler;
import java.io.PrintStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import org.HdrHistogram.Histogram;
import tappet.bridge.adapter.TcpServer;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.Hub;
import tappet.bridge.hub.HubListener;
import tappet.lcc.CanFrame;
import tappet.lcc.FrameText;

/**
 * How fast the hub relays frames from one TCP client to eight others, beside a bare relay that
 * copies bytes over sockets of the same kind and reads none of them, in the same run; and beside
 * what a CAN bus can carry. Rounds of both alternate, and the middle one counts.
 *
 * <p>Goals: the hub reaches 0.7 of the bare relay and 100 times the bus.
 */
public final class RelayMeasure {

  /** What was found; the ratio is the middle one of the rounds' own. */
  record Result(
      double hubFramesPerS,
      double bareFramesPerS,
      double ratio,
      Histogram hubNs,
      Histogram bareNs) {}

  static final int CLIENTS = 8;

  /** Frames of 8 data bytes a bus of 125 kbit/s carries in a second (computed, fact sheet §1.1). */
  static final int BUS_FRAMES_PER_S = 954;

  private static final double GOAL_OF_BARE = 0.7;
  private static final double GOAL_OF_BUS = 100;
  private static final int HEADER = 0x195B4573;
  private static final long LATENCY_MAX_NS = 10_000_000_000L;

  /** The speaker stays this close before the slowest listener: a hub drops who lags behind. */
  private static final int AHEAD_BYTES_MAX = 384 * 1024;

  private static final int PIECE_FRAMES = 256;

  private static final int WARM_ROUNDS = 3;

  private final int rounds;
  private final int frames;
  private final int paced;

  RelayMeasure(int rounds, int frames, int paced) {
    this.rounds = rounds;
    this.frames = frames;
    this.paced = paced;
  }

  /** About a minute's worth. */
  static RelayMeasure whole() {
    return new RelayMeasure(11, 1_000_000, 1_000);
  }

  /** Only shows that measuring works. */
  static RelayMeasure tiny() {
    return new RelayMeasure(1, 5_000, 50);
  }

  Result run() throws Exception {
    MultiThreadIoEventLoopGroup group =
        new MultiThreadIoEventLoopGroup(1, NioIoHandler.newFactory());
    Hub hub = new Hub(group.next(), new Deaf());
    try (TcpServer server = TcpServer.open(hub, anyPort());
        BareRelay bare = BareRelay.open();
        Crowd hubCrowd = Crowd.join(server.address(), CLIENTS);
        Crowd bareCrowd = Crowd.join(bare.address(), CLIENTS)) {
      return compare(hubCrowd, bareCrowd);
    } finally {
      group.shutdownGracefully(0, 1, TimeUnit.SECONDS).sync();
    }
  }

  /** Rounds of both alternate: what else the machine does then hits both alike. */
  private Result compare(Crowd hub, Crowd bare) throws Exception {
    double[] hubRates = new double[rounds];
    double[] bareRates = new double[rounds];
    double[] ratios = new double[rounds];
    for (int round = -WARM_ROUNDS; round < rounds; round++) {
      int kept = Math.max(round, 0);
      bareRates[kept] = rate(bare);
      hubRates[kept] = rate(hub);
      ratios[kept] = hubRates[kept] / bareRates[kept];
    }
    Histogram bareNs = new Histogram(LATENCY_MAX_NS, 3);
    Histogram hubNs = new Histogram(LATENCY_MAX_NS, 3);
    for (int round = 0; round < rounds; round++) {
      time(bare, bareNs);
      time(hub, hubNs);
    }
    return new Result(middle(hubRates), middle(bareRates), middle(ratios), hubNs, bareNs);
  }

  private static double middle(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    return sorted[sorted.length / 2];
  }

  /** Frames a second from the speaker to all listeners, as fast as they go. */
  private double rate(Crowd crowd) throws Exception {
    byte[] piece = piece();
    long before = crowd.slowest();
    long said = 0;
    long startNs = System.nanoTime();
    for (int frame = 0; frame < frames; frame += PIECE_FRAMES) {
      crowd.awaitSlowest(before + said - AHEAD_BYTES_MAX);
      crowd.say(piece, piece.length);
      said += piece.length;
    }
    crowd.awaitSlowest(before + said);
    double seconds = (System.nanoTime() - startNs) / 1e9;
    return said / (double) FrameText.TEXT_LENGTH_MAX / seconds;
  }

  private static byte[] piece() {
    StringBuilder text = new StringBuilder();
    for (int frame = 0; frame < PIECE_FRAMES; frame++) {
      text.append(FrameText.encode(CanFrame.of(HEADER, 8, frame)));
    }
    return text.toString().getBytes(StandardCharsets.US_ASCII);
  }

  /** How long frames are on their way to each listener, at 1,000 frames a second. */
  private void time(Crowd crowd, Histogram all) throws Exception {
    byte[] text = new byte[FrameText.TEXT_LENGTH_MAX];
    long before = crowd.slowest();
    crowd.startTiming();
    long nextNs = System.nanoTime();
    for (int frame = 0; frame < paced; frame++) {
      nextNs += 1_000_000;
      LockSupport.parkNanos(nextNs - System.nanoTime());
      int length = FrameText.write(CanFrame.of(HEADER, 8, System.nanoTime()), text, 0);
      crowd.say(text, length);
    }
    crowd.awaitSlowest(before + (long) paced * FrameText.TEXT_LENGTH_MAX);
    crowd.endTiming(all);
  }

  static boolean tell(Result result, PrintStream out) {
    double ofBus = result.hubFramesPerS / BUS_FRAMES_PER_S;
    out.printf("Relay of text frames from one TCP client to %d others%n", CLIENTS);
    out.printf("  hub         %,12.0f frames/s%n", result.hubFramesPerS);
    out.printf(
        "  bare relay  %,12.0f frames/s (copies bytes, reads none)%n", result.bareFramesPerS);
    out.printf("  bus         %,12d frames/s (125 kbit/s, 8 data bytes)%n", BUS_FRAMES_PER_S);
    out.printf("  hub to bare relay  %.2f, goal %.1f%n", result.ratio, GOAL_OF_BARE);
    out.printf("  hub to bus         %.0f, goal %.0f%n", ofBus, GOAL_OF_BUS);
    out.printf("Time on the way at 1,000 frames/s, microseconds%n");
    tell("hub", result.hubNs, out);
    tell("bare relay", result.bareNs, out);
    out.printf(
        "  added by the hub: p50 %.0f, p99 %.0f%n",
        us(result.hubNs, 50) - us(result.bareNs, 50), us(result.hubNs, 99) - us(result.bareNs, 99));
    return result.ratio >= GOAL_OF_BARE && ofBus >= GOAL_OF_BUS;
  }

  private static void tell(String name, Histogram ns, PrintStream out) {
    out.printf(
        "  %-11s p50 %.0f, p99 %.0f, max %.0f of %,d%n",
        name, us(ns, 50), us(ns, 99), us(ns, 100), ns.getTotalCount());
  }

  private static double us(Histogram ns, double percentile) {
    return ns.getValueAtPercentile(percentile) / 1e3;
  }

  private static InetSocketAddress anyPort() {
    return new InetSocketAddress(InetAddress.getLoopbackAddress(), 0);
  }

  private static final class Deaf implements HubListener {
    @Override
    public void frameArrived(Connection from, CanFrame frame) {}

    @Override
    public void connectionUp(Connection connection) {}

    @Override
    public void connectionDown(Connection connection, String why) {}
  }
}
