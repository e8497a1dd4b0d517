package tappet.rules;

import java.util.Map;
import tappet.layout.Position;
import tappet.source.Place;

/**
 * How switches lie while a section is under a blue flag (49 CFR 218.27, 218.29).
 *
 * @param section the section
 * @param switches the position of each switch that leads away from it
 * @param place where it stands
 */
public record FlagRow(String section, Map<String, Position> switches, Place place) {}
