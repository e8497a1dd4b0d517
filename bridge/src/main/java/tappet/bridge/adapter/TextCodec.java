package tappet.bridge.adapter;

import java.util.List;
import tappet.lcc.CanFrame;
import tappet.lcc.FrameText;

/** Text frames on a serial line; nothing but frames is ever said. */
final class TextCodec implements SerialCodec {

  private static final byte[] NOTHING = {};

  private final FrameIntake intake;

  TextCodec(String name, TrafficCount traffic) {
    this.intake = new FrameIntake(name, traffic);
  }

  @Override
  public byte[] greeting() {
    return NOTHING;
  }

  @Override
  public byte[] farewell() {
    return NOTHING;
  }

  @Override
  public byte[] question() {
    return NOTHING;
  }

  @Override
  public int write(CanFrame frame, byte[] target, int offset) {
    return FrameText.write(frame, target, offset);
  }

  @Override
  public List<CanFrame> feed(byte[] bytes, int offset, int length, long nowNs) {
    return intake.feed(bytes, offset, length);
  }

  @Override
  public void passTime(long nowNs) {
    // Silence is as good as frames: a layout may sleep.
  }

  @Override
  public void end() {
    intake.end();
  }
}
