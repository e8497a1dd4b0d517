package tappet.proof;

/** Whether something can come to be so. */
public enum Reach {
  /** It was seen, or there is a story in which it comes to be so. */
  CAN,
  /** It is proven that it never is. */
  NEVER,
  /** There is neither a story nor a proof. */
  NOT_FOUND
}
