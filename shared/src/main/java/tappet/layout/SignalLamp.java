package tappet.layout;

import java.util.Optional;
import tappet.lcc.EventId;

/**
 * One light of a signal that is switched by events of its own.
 *
 * @param head its head, 0 for the top one
 * @param colour its colour
 * @param id its name within the signal, such as {@code top-green}
 * @param lit the event that lights it
 * @param dark the event that puts it out
 * @param flashing the event that makes its board flash it; empty where the daemon does that
 * @param proving how its board tells that it has failed; empty where no board does
 */
public record SignalLamp(
    int head,
    Colour colour,
    String id,
    EventId lit,
    EventId dark,
    Optional<EventId> flashing,
    Optional<LampProving> proving) {}
