package tappet.bridge;

import io.netty.channel.EventLoop;
import java.io.IOException;
import java.net.InetSocketAddress;
import java.util.Optional;
import tappet.bridge.box.BoxThread;
import tappet.bridge.health.HealthPort;
import tappet.bridge.health.Housekeeping;
import tappet.bridge.health.Metrics;
import tappet.bridge.health.ServiceManager;
import tappet.bridge.health.Sources;
import tappet.bridge.health.Vigilance;
import tappet.bridge.health.Vitals;

/** Who looks after the daemon itself: systemd, and whoever asks for its numbers. */
final class HealthWatch implements AutoCloseable {

  private final EventLoop loop;
  private final Optional<ServiceManager> manager =
      ServiceManager.open(System.getenv(ServiceManager.SOCKET));
  private final Vigilance vigilance;
  private Optional<HealthPort> port = Optional.empty();

  /**
   * Begins to watch a box.
   *
   * @param loop where the looks are taken, and where numbers are told
   */
  HealthWatch(BoxThread box, EventLoop loop) {
    this.loop = loop;
    this.vigilance = Vigilance.over(box, loop, () -> manager.ifPresent(ServiceManager::alive));
  }

  /**
   * Tells numbers to whoever asks.
   *
   * @throws IOException if the address is taken
   */
  void tell(InetSocketAddress at, Sources numbers) throws IOException {
    port =
        Optional.of(
            HealthPort.open(
                loop, SettingsReader.resolved(at), new Metrics(numbers, vigilance), vitals()));
  }

  /** Where numbers are told; empty where they are not. */
  Optional<InetSocketAddress> address() {
    return port.map(HealthPort::address);
  }

  /** How the daemon fares. */
  Vitals vitals() {
    return new Vitals(vigilance);
  }

  /** Whether the box has answered in time. */
  boolean boxAnswers() {
    return !vigilance.isStalled();
  }

  /**
   * The daemon does its work.
   *
   * @param railroad what for
   */
  void ready(String railroad) {
    manager.ifPresent(told -> told.ready(railroad));
    Housekeeping.begin(loop);
  }

  /** The daemon is about to end. */
  void stopping() {
    manager.ifPresent(ServiceManager::stopping);
  }

  @Override
  public void close() {
    port.ifPresent(HealthPort::close);
    manager.ifPresent(ServiceManager::close);
  }
}
