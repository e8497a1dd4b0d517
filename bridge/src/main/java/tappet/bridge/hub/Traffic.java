package tappet.bridge.hub;

/**
 * What went through a connection since the daemon's start, over all of its ups and downs.
 *
 * @param framesIn frames heard
 * @param framesOut frames handed to the line
 * @param malformed frames begun that could not be read, and were skipped
 * @param skippedBytes bytes heard that belong to no frame
 * @param ignored whole frames of kinds that LCC does not use, 11-bit and remote ones
 * @param refused frames that the device at the line's end refused to take
 */
public record Traffic(
    long framesIn, long framesOut, long malformed, long skippedBytes, long ignored, long refused) {

  /** Nothing yet. */
  public static final Traffic NONE = new Traffic(0, 0, 0, 0, 0, 0);
}
