package tappet.bridge.health;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.JavaProcess;

/** What sd_notify(3) says a service manager hears, on real sockets that socat opens (unix(7)). */
class ServiceManagerTest {

  @TempDir Path folder;

  @Test
  void eachStateIsOneDatagram() throws Exception {
    Path socket = folder.resolve("notify");
    hear("UNIX-RECV:" + socket, socket.toString(), () -> Files.exists(socket));
  }

  @Test
  void socketWithoutAPathBeginsWithAnAtSign() throws Exception {
    String name = "tappet-test-" + ProcessHandle.current().pid();
    hear("ABSTRACT-RECV:" + name, "@" + name, () -> isBound("@" + name));
  }

  private static boolean isBound(String name) throws IOException {
    return Files.readString(Path.of("/proc/net/unix")).contains(name);
  }

  private interface Condition {
    boolean met() throws IOException;
  }

  private void hear(String socat, String address, Condition open) throws Exception {
    Path heard = folder.resolve("heard");
    Process listener =
        new ProcessBuilder("socat", "-u", socat, "CREATE:" + heard)
            .redirectErrorStream(true)
            .redirectOutput(ProcessBuilder.Redirect.DISCARD)
            .start();
    try {
      Awaitility.await().atMost(JavaProcess.PATIENCE).until(open::met);
      ServiceManager manager = ServiceManager.open(address).orElseThrow();
      manager.ready("Ambrose Valley Line");
      manager.alive();
      manager.stopping();
      manager.close();
      String told =
          "READY=1\nSTATUS=Ambrose Valley Line"
              + "WATCHDOG=1"
              + "STOPPING=1\nSTATUS=puts every signal to Stop";
      Awaitility.await()
          .atMost(JavaProcess.PATIENCE)
          .untilAsserted(() -> assertEquals(told, Files.readString(heard, StandardCharsets.UTF_8)));
    } finally {
      listener.destroy();
      assertTrue(listener.waitFor(10, TimeUnit.SECONDS));
    }
  }

  @Test
  void whereNobodyListensNothingIsSaid() {
    assertEquals(Optional.empty(), ServiceManager.open(null));
    assertEquals(Optional.empty(), ServiceManager.open(""));
    assertEquals(Optional.empty(), ServiceManager.open(folder.resolve("nobody").toString()));
  }
}
