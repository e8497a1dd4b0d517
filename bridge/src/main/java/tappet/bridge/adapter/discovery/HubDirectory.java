package tappet.bridge.adapter.discovery;

import java.io.Closeable;
import java.io.IOException;
import java.net.Inet4Address;
import java.net.InetAddress;
import java.net.NetworkInterface;
import java.net.SocketException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentSkipListMap;
import java.util.concurrent.Executors;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import java.util.stream.Stream;
import javax.jmdns.JmDNS;
import javax.jmdns.ServiceEvent;
import javax.jmdns.ServiceInfo;
import javax.jmdns.ServiceListener;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Announces our hub in the local network and keeps a list of the others that do. All network work
 * is done on a thread of its own: no call waits for it, and a machine that has no network yet is
 * tried again from time to time.
 */
public final class HubDirectory implements Closeable {

  private static final Logger LOG = LoggerFactory.getLogger(HubDirectory.class);
  private static final Duration RETRY = Duration.ofSeconds(30);

  private final Supplier<Optional<InetAddress>> network;
  private final Duration retry;
  private final ScheduledExecutorService worker =
      Executors.newSingleThreadScheduledExecutor(HubDirectory::thread);
  private final Map<String, FoundHub> found = new ConcurrentSkipListMap<>();

  // Touched on the worker only.
  private final List<Announcement> announcements = new ArrayList<>();
  private Optional<JmDNS> joined = Optional.empty();
  private boolean toldOutage;
  private boolean closed;

  private HubDirectory(Supplier<Optional<InetAddress>> network, Duration retry) {
    this.network = network;
    this.retry = retry;
  }

  private static Thread thread(Runnable task) {
    Thread thread = new Thread(task, "find hubs");
    thread.setDaemon(true);
    return thread;
  }

  /** Joins the network of this machine's first address that is not for itself only. */
  public static HubDirectory open() {
    return open(HubDirectory::usualNetwork, RETRY);
  }

  /** Joins the network that this address of our machine belongs to. */
  public static HubDirectory open(InetAddress address) {
    return open(() -> Optional.of(address), RETRY);
  }

  static HubDirectory open(Supplier<Optional<InetAddress>> network, Duration retry) {
    HubDirectory directory = new HubDirectory(network, retry);
    directory.later(directory::join);
    return directory;
  }

  private static Optional<InetAddress> usualNetwork() {
    try {
      return NetworkInterface.networkInterfaces()
          .filter(HubDirectory::isShared)
          .flatMap(NetworkInterface::inetAddresses)
          .filter(address -> address instanceof Inet4Address)
          .findFirst();
    } catch (SocketException e) {
      return Optional.empty();
    }
  }

  private static boolean isShared(NetworkInterface network) {
    try {
      return network.isUp() && !network.isLoopback() && network.supportsMulticast();
    } catch (SocketException e) {
      return false;
    }
  }

  /**
   * Announces a hub of this machine until this directory is closed.
   *
   * @param name what its owner calls it; a number is added if somebody has that name already
   * @param port 1 to 65535
   */
  public void announce(String name, HubService service, int port) {
    if (port < 1 || port > 0xFFFF) {
      throw new IllegalArgumentException("port " + port + ", expected 1 to 65535");
    }
    later(() -> add(new Announcement(name, service, port)));
  }

  private void add(Announcement announcement) {
    announcements.add(announcement);
    joined.ifPresent(network -> register(network, announcement));
  }

  private void join() {
    if (closed) {
      return;
    }
    try {
      Optional<InetAddress> address = network.get();
      if (address.isPresent()) {
        joinBy(address.get());
      } else {
        outage("there is no network");
      }
    } catch (IOException e) {
      outage(e.getMessage());
    } catch (RuntimeException e) {
      // What is left undone by a fault must not end the tries.
      leaveNetwork();
      outage(e.toString());
    }
  }

  private void joinBy(InetAddress address) throws IOException {
    JmDNS fresh = JmDNS.create(address);
    joined = Optional.of(fresh);
    listen(fresh);
    announcements.forEach(announcement -> register(fresh, announcement));
    toldOutage = false;
  }

  private void outage(String why) {
    if (!toldOutage) {
      toldOutage = true;
      LOG.warn("Hubs in the network can be neither found nor told of ours: {}", why);
    }
    try {
      var unused = worker.schedule(this::join, retry.toMillis(), TimeUnit.MILLISECONDS);
    } catch (RejectedExecutionException e) {
      LOG.debug("The directory is closed", e);
    }
  }

  private void listen(JmDNS network) {
    for (HubService service : HubService.values()) {
      network.addServiceListener(service.type(), new Watcher());
    }
  }

  private void register(JmDNS network, Announcement announcement) {
    ServiceInfo info = announcement.info();
    try {
      network.registerService(info);
      LOG.info(
          "Announced in the network as '{}', {}", info.getName(), announcement.service().type());
    } catch (IOException e) {
      LOG.warn("'{}' cannot be announced: {}", announcement.name(), e.getMessage());
    }
  }

  /** The hubs heard of, our own announced ones too, in the order of their names. */
  public List<FoundHub> hubs() {
    return List.copyOf(found.values());
  }

  /** Takes back what was announced, and leaves the network; does not wait for it. */
  @Override
  public void close() {
    later(this::leave);
    worker.shutdown();
  }

  private void leave() {
    closed = true;
    leaveNetwork();
  }

  private void leaveNetwork() {
    joined.ifPresent(HubDirectory::leave);
    joined = Optional.empty();
  }

  private static void leave(JmDNS network) {
    try {
      network.close();
    } catch (IOException e) {
      LOG.debug("Leaving the network failed", e);
    }
  }

  private void later(Runnable task) {
    try {
      worker.execute(() -> guarded(task));
    } catch (RejectedExecutionException e) {
      LOG.debug("The directory is closed: a late call is dropped", e);
    }
  }

  private static void guarded(Runnable task) {
    try {
      task.run();
    } catch (RuntimeException e) {
      LOG.error("Finding hubs failed", e);
    }
  }

  private record Announcement(String name, HubService service, int port) {
    ServiceInfo info() {
      return ServiceInfo.create(service.type(), name, port, "");
    }
  }

  private final class Watcher implements ServiceListener {
    @Override
    public void serviceAdded(ServiceEvent event) {
      event.getDNS().requestServiceInfo(event.getType(), event.getName());
    }

    @Override
    public void serviceRemoved(ServiceEvent event) {
      found.remove(key(event));
    }

    @Override
    public void serviceResolved(ServiceEvent event) {
      ServiceInfo info = event.getInfo();
      List<String> addresses =
          Stream.<InetAddress>concat(
                  Stream.of(info.getInet4Addresses()), Stream.of(info.getInet6Addresses()))
              .map(InetAddress::getHostAddress)
              .toList();
      if (!addresses.isEmpty() && info.getPort() > 0) {
        HubService service = HubService.ofType(event.getType());
        found.put(key(event), new FoundHub(event.getName(), service, addresses, info.getPort()));
      }
    }

    private static String key(ServiceEvent event) {
      return event.getName() + " " + event.getType();
    }
  }
}
