package tappet.bridge.health;

import java.util.List;
import java.util.Map;
import java.util.function.Supplier;
import tappet.bridge.box.BoxThread;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.Hub;
import tappet.bridge.pages.PageCounts;

/**
 * Where numbers come from.
 *
 * @param ways the connections that the owner's settings ask for
 * @param pages what the pages have counted
 * @param refusedByMqtt commands that came by MQTT and were refused, by reason
 */
public record Sources(
    BoxThread box,
    Hub hub,
    List<Connection> ways,
    Supplier<PageCounts> pages,
    Supplier<Map<String, Long>> refusedByMqtt) {}
