package tappet.bridge.adapter.discovery;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.net.InetAddress;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicReference;
import org.junit.jupiter.api.Test;

/** Two directories in one program, joined by the loopback network. */
class HubDirectoryTest {

  private static final Duration PATIENCE = Duration.ofSeconds(60);
  private static final InetAddress HERE = InetAddress.getLoopbackAddress();

  @Test
  void serviceNamesAreThoseOfTheDraft() {
    // TCP-TN (draft) §3.3.1 and §4.1.
    assertEquals("_openlcb-hub._tcp.local.", HubService.MESSAGES.type());
    assertEquals("_openlcb-can._tcp.local.", HubService.TEXT_FRAMES.type());
  }

  @Test
  void hubAnnouncedIsFoundAndGoneWhenItsDirectoryIsClosed() {
    HubDirectory ours = HubDirectory.open(HERE);
    try (HubDirectory theirs = HubDirectory.open(HERE)) {
      ours.announce("Ambrose Valley", HubService.TEXT_FRAMES, 12021);

      await().atMost(PATIENCE).until(() -> theirs.hubs().size() == 1);
      FoundHub found = theirs.hubs().get(0);
      assertEquals("Ambrose Valley", found.name());
      assertEquals(HubService.TEXT_FRAMES, found.service());
      assertEquals(12021, found.port());
      assertTrue(found.addresses().contains("127.0.0.1"), found.toString());

      ours.close();
      await().atMost(PATIENCE).until(() -> theirs.hubs().isEmpty());
    } finally {
      ours.close();
    }
  }

  @Test
  void machineWithoutANetworkIsNoErrorAndIsTriedAgain() {
    AtomicReference<Optional<InetAddress>> network = new AtomicReference<>(Optional.empty());
    AtomicInteger tries = new AtomicInteger();
    try (HubDirectory late =
            HubDirectory.open(
                () -> {
                  tries.incrementAndGet();
                  return network.get();
                },
                Duration.ofMillis(10));
        HubDirectory theirs = HubDirectory.open(HERE)) {
      late.announce("Tilling", HubService.MESSAGES, 12022);
      await().atMost(PATIENCE).until(() -> tries.get() >= 3);
      assertEquals(List.of(), late.hubs());

      network.set(Optional.of(HERE));

      await()
          .atMost(PATIENCE)
          .until(() -> theirs.hubs().stream().anyMatch(hub -> hub.name().equals("Tilling")));
    }
  }

  @Test
  void faultInLookingForANetworkIsNoEndOfTheTries() {
    AtomicInteger tries = new AtomicInteger();
    try (HubDirectory faulty =
        HubDirectory.open(
            () -> {
              tries.incrementAndGet();
              throw new IllegalStateException("no addresses can be listed");
            },
            Duration.ofMillis(10))) {
      await().atMost(PATIENCE).until(() -> tries.get() >= 3);
      assertEquals(List.of(), faulty.hubs());
    }
  }

  @Test
  void startWaitsForNothing() {
    // Longer than that, a start is held up; joining takes seconds.
    long startNs = System.nanoTime();
    HubDirectory directory = HubDirectory.open(HERE);
    directory.announce("Ambrose Valley", HubService.TEXT_FRAMES, 12021);
    directory.close();

    assertTrue(System.nanoTime() - startNs < 500_000_000L);
  }

  @Test
  void callsAfterTheCloseAreDropped() {
    HubDirectory directory = HubDirectory.open(HERE);
    directory.close();

    directory.announce("Ambrose Valley", HubService.TEXT_FRAMES, 12021);
    directory.close();

    assertEquals(List.of(), directory.hubs());
  }

  @Test
  void portThatCannotBeIsRefused() {
    try (HubDirectory directory = HubDirectory.open(HERE)) {
      assertThrows(
          IllegalArgumentException.class,
          () -> directory.announce("Ambrose Valley", HubService.TEXT_FRAMES, 0));
    }
  }
}
