package tappet.bridge.node;

import java.util.function.Consumer;

/**
 * How the daemon's node remembers things while it is off.
 *
 * @param version of the software, told to tools, at most 20 bytes
 * @param kept what is remembered of the last time
 * @param keeper keeps what is to be remembered next time; must not block
 */
public record Keeping(String version, KeptState kept, Consumer<KeptState> keeper) {}
