package tappet.bridge.hub;

/** What a connection may do. */
public enum Access {
  /** Hears everything, and is heard by everybody. */
  FULL,

  /** Hears everything; what it says is counted and dropped, and reaches neither bus nor box. */
  LISTEN_ONLY
}
