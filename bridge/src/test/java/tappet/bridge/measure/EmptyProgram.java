package tappet.bridge.measure;

import java.util.concurrent.CountDownLatch;

/** The baseline of footprint: a JVM that has nothing to do. */
final class EmptyProgram {

  private EmptyProgram() {}

  public static void main(String[] arguments) throws InterruptedException {
    System.out.println("ready");
    new CountDownLatch(1).await();
  }
}
