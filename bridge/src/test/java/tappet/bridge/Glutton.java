package tappet.bridge;

/** Takes all the memory there is, on a thread that is not the first, and then lingers. */
final class Glutton {

  private Glutton() {}

  public static void main(String[] arguments) throws InterruptedException {
    Thread eater =
        new Thread(
            () -> {
              Object[] eaten = {};
              while (true) {
                eaten = new Object[] {eaten, new byte[1 << 20]};
              }
            });
    eater.start();
    Thread.sleep(JavaProcess.PATIENCE.toMillis() * 2);
  }
}
