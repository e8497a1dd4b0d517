package tappet.bridge.record;

/** Is told when a book cannot be written, or others cannot be told; on the thread that does so. */
@FunctionalInterface
public interface Trouble {

  /** From now on something is lost. */
  void arises(String what);

  /** What comes from now on is written, or told, again. */
  default void over() {}

  /** Something has happened to the book that people should hear of; it is written again. */
  default void happened(String what) {}
}
