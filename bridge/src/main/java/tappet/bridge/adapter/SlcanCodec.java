package tappet.bridge.adapter;

import java.util.ArrayList;
import java.util.List;
import tappet.bridge.hub.Access;
import tappet.lcc.CanFrame;

/** One opening of an SLCAN adapter: sets it up, asks its status, and tells what is wrong. */
final class SlcanCodec implements SerialCodec, SlcanReader.Listener {

  static final long SILENCE_NS = 2_000_000_000L;

  /** Bells this soon answer the opening: closing a channel not open is refused. */
  private static final long OPENING_NS = 500_000_000L;

  private static final long TELL_AGAIN_NS = 60_000_000_000L;

  /** Flags are gone once they are told: a few seconds without any do not mean that all is well. */
  static final long CALM_NS = 10_000_000_000L;

  private static final byte[] NOTHING = {};

  /** What each status flag means, the lowest first. From memory, see {@link SlcanText}. */
  private static final List<String> FLAGS =
      List.of(
          "frames heard were lost in it",
          "frames to send wait in it",
          "many bus errors",
          "frames heard came too fast for it",
          "",
          "it hardly takes part any more (error passive)",
          "",
          "bus error: is the bus powered, ended by two terminators, and is somebody else on it?");

  private final Access access;
  private final TrafficCount traffic;
  private final LineTrouble trouble;
  private final SlcanReader reader = new SlcanReader(this);
  private final List<CanFrame> frames = new ArrayList<>();

  private boolean isBegun;
  private long sinceNs;
  private long nowNs;
  private boolean hasAnswered;
  private boolean toldSilence;
  private boolean toldBells;
  private boolean knowsStatus;
  private int toldFlags;
  private long toldFlagsNs;
  private long flaggedNs;

  /** Not every adapter knows the question; one that rings the bell for it is not asked again. */
  private volatile boolean isAsked = true;

  SlcanCodec(Access access, TrafficCount traffic, LineTrouble trouble) {
    this.access = access;
    this.traffic = traffic;
    this.trouble = trouble;
  }

  @Override
  public byte[] greeting() {
    return access.hears() ? SlcanText.opening() : SlcanText.openingToListen();
  }

  @Override
  public byte[] farewell() {
    return SlcanText.closing();
  }

  @Override
  public byte[] question() {
    return isAsked ? SlcanText.statusQuestion() : NOTHING;
  }

  @Override
  public int write(CanFrame frame, byte[] target, int offset) {
    return SlcanText.write(frame, target, offset);
  }

  @Override
  public List<CanFrame> feed(byte[] bytes, int offset, int length, long nowNs) {
    passTime(nowNs);
    answered();
    frames.clear();
    reader.feed(bytes, offset, length);
    traffic.framesIn.add(frames.size());
    return frames;
  }

  private void answered() {
    hasAnswered = true;
    if (toldSilence) {
      toldSilence = false;
      trouble.over("answers nothing");
    }
  }

  @Override
  public void passTime(long nowNs) {
    if (!isBegun) {
      isBegun = true;
      sinceNs = nowNs;
    }
    this.nowNs = nowNs;
    if (!hasAnswered && !toldSilence && nowNs - sinceNs >= SILENCE_NS) {
      toldSilence = true;
      trouble.arises("answers nothing: is it an SLCAN adapter, and is its speed right?");
    }
  }

  @Override
  public void frame(CanFrame frame) {
    frames.add(frame);
  }

  @Override
  public void frameOfOtherKind() {
    traffic.ignored.increment();
  }

  @Override
  public void garbage(int bytes) {
    traffic.malformed.increment();
    traffic.skippedBytes.add(bytes);
  }

  @Override
  public void bell() {
    if (nowNs - sinceNs < OPENING_NS) {
      return;
    }
    if (isAsked && !knowsStatus) {
      isAsked = false;
      return;
    }
    traffic.refused.increment();
    if (!toldBells) {
      toldBells = true;
      trouble.arises("refuses frames; they are counted from now on");
    }
  }

  @Override
  public void status(int flags) {
    knowsStatus = true;
    if (flags != 0) {
      flaggedNs = nowNs;
      report(flags);
    } else if (toldFlags != 0 && nowNs - flaggedNs >= CALM_NS) {
      endReport();
    }
  }

  private void report(int flags) {
    boolean isNews = (flags & ~toldFlags) != 0 || nowNs - toldFlagsNs >= TELL_AGAIN_NS;
    if (isNews) {
      endReportOtherThan(flags);
      toldFlags = flags;
      toldFlagsNs = nowNs;
      trouble.arises("reports: " + words(flags));
    }
  }

  private void endReportOtherThan(int flags) {
    if (toldFlags != 0 && toldFlags != flags) {
      endReport();
    }
  }

  private void endReport() {
    toldFlags = 0;
    trouble.over("reports: ");
  }

  private static String words(int flags) {
    List<String> words = new ArrayList<>();
    for (int bit = 0; bit < FLAGS.size(); bit++) {
      if ((flags & 1 << bit) != 0 && !FLAGS.get(bit).isEmpty()) {
        words.add(FLAGS.get(bit));
      }
    }
    return words.isEmpty() ? "status 0x%02X".formatted(flags) : String.join("; ", words);
  }

  @Override
  public void end() {
    // All is told and counted as it comes.
  }
}
