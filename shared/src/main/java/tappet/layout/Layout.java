package tappet.layout;

import java.util.Map;

/**
 * A layout that has been read without a mistake: every name in it is declared, every event id has
 * one meaning. The maps keep the order of the file.
 *
 * @param file the file it was read from, as the owner gave it
 * @param name the railroad's name
 * @param joints the joints by id
 * @param sections the sections by id
 * @param switches the switches by id
 * @param signals the signals by id
 */
public record Layout(
    String file,
    String name,
    Map<String, Joint> joints,
    Map<String, Section> sections,
    Map<String, Switch> switches,
    Map<String, Signal> signals) {}
