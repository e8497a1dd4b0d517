package tappet.lcc;

/**
 * The 16-bit reasons given when something is refused (S-9.7.3 §3.5.5, S-9.7.4.2 §4.3). Bits that
 * are not known here are tolerated: what matters is permanent or temporary.
 */
public final class ErrorCode {

  public static final int PERMANENT = 0x1000;
  public static final int NOT_FOUND = 0x1030;
  public static final int SUBCOMMAND_UNKNOWN = 0x1041;
  public static final int DATAGRAM_UNKNOWN = 0x1042;
  public static final int MTI_UNKNOWN = 0x1043;
  public static final int INVALID_ARGUMENTS = 0x1080;
  public static final int SPACE_UNKNOWN = 0x1081;
  public static final int OUT_OF_BOUNDS = 0x1082;
  public static final int READ_ONLY = 0x1083;
  public static final int BUFFER_UNAVAILABLE = 0x2020;
  public static final int END_WITHOUT_START = 0x2041;
  public static final int START_BEFORE_END = 0x2042;

  private static final int TEMPORARY = 0x2000;

  private ErrorCode() {}

  /** Whether sending the same again may work. */
  public static boolean isTemporary(int errorCode) {
    return (errorCode & TEMPORARY) != 0;
  }
}
