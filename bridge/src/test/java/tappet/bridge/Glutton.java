package tappet.bridge;

import java.util.ArrayList;
import java.util.List;

/** Takes all the memory there is, on a thread that is not the first, and then lingers. */
final class Glutton {

  private Glutton() {}

  public static void main(String[] arguments) throws InterruptedException {
    Thread eater =
        new Thread(
            () -> {
              List<byte[]> eaten = new ArrayList<>();
              while (true) {
                eaten.add(new byte[1 << 20]);
              }
            });
    eater.start();
    Thread.sleep(JavaProcess.PATIENCE.toMillis() * 2);
  }
}
