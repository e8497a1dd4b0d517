/**
 * How the daemon itself fares: whether the box still takes messages, what can be measured, and who
 * is told of it: systemd, whoever asks at {@code /health} and {@code /metrics}, and the log.
 *
 * <p>In come looks at box, hub and pages; out go numbers and a judgement. Nothing here changes the
 * railroad.
 */
package tappet.bridge.health;
