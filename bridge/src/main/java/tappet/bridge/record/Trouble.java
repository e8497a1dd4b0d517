package tappet.bridge.record;

/** Is told when a book cannot be written; on the scribe's own thread. */
@FunctionalInterface
public interface Trouble {

  /** From now on something is lost. */
  void arises(String what);

  /** What comes from now on is written again. */
  default void over() {}

  /** Something has happened to the book that people should hear of; it is written again. */
  default void happened(String what) {}
}
