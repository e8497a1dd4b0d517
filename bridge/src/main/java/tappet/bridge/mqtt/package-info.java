/**
 * What people see, told to an MQTT broker for home-made displays and home automation, and sentences
 * that come back by it where the owner allows that.
 *
 * <p>In come looks at the railroad; out go retained messages, one topic a device, as {@code
 * config/mqtt.md} tells. Sentences pass the same checks as those of the pages. Loaded only where
 * the settings name a broker; everything happens on one event loop, and the box never waits.
 */
package tappet.bridge.mqtt;
