package tappet.bridge.reload;

import java.util.function.Consumer;

/**
 * Somebody who goes by what runs, and has to follow when other files have taken over.
 *
 * @param name who it is, for people, such as "the journal"
 * @param goOn has it go on with the edition that runs now
 */
public record Follower(String name, Consumer<Edition> goOn) {}
