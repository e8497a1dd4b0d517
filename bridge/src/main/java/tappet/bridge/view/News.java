package tappet.bridge.view;

/**
 * Something that has happened.
 *
 * @param atMs when, in milliseconds since 1970
 * @param text what, in the owner's words
 */
public record News(long atMs, String text) {}
