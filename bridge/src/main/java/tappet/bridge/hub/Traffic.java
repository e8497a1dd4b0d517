package tappet.bridge.hub;

/**
 * What went through a connection since the daemon's start, over all of its ups and downs.
 *
 * @param framesIn frames heard
 * @param framesOut frames handed to the line
 * @param malformed frames begun that could not be read, and were skipped
 * @param skippedBytes bytes heard that belong to no frame
 */
public record Traffic(long framesIn, long framesOut, long malformed, long skippedBytes) {

  /** Nothing yet. */
  public static final Traffic NONE = new Traffic(0, 0, 0, 0);
}
