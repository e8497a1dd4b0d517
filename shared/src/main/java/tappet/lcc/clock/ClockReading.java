package tappet.lcc.clock;

import java.time.LocalDateTime;
import tappet.lcc.clock.ClockEvent.Rate;

/**
 * What a layout's clock shows.
 *
 * @param time the date and time on the layout; years 0 to 4095
 * @param rate how fast it runs, or would if it ran
 * @param running whether it runs
 */
public record ClockReading(LocalDateTime time, Rate rate, boolean running) {}
