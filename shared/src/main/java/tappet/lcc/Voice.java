package tappet.lcc;

/** How the parts of a node speak. */
interface Voice {

  /** The alias in use; 0 while the node may not speak. */
  int alias();

  void say(CanFrame frame);

  default void say(Message message) {
    say(message.encode());
  }
}
