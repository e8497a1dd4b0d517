package tappet.proof.sat;

/** A name as a line-based file can carry it. */
final class OneLine {

  private OneLine() {}

  /** Without line breaks and other control characters. */
  static String of(String name) {
    return name.replaceAll("\\p{Cntrl}+", " ");
  }
}
