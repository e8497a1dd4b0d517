package tappet.bridge.hub;

import java.util.List;
import tappet.lcc.CanFrame;

/**
 * Frames on their way through the hub together. All connections get the same instance, so what one
 * of them makes of it can serve the next. Valid until the call that brought it returns.
 */
public final class FrameBatch {

  private final List<CanFrame> frames;

  private FrameBatch(List<CanFrame> frames) {
    this.frames = frames;
  }

  /** These frames, at least one. */
  public static FrameBatch of(List<CanFrame> frames) {
    return new FrameBatch(frames);
  }

  /** The frames in order. */
  public List<CanFrame> frames() {
    return frames;
  }
}
