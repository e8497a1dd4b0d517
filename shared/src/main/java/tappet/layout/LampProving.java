package tappet.layout;

import tappet.lcc.EventId;

/**
 * The events by which a board tells whether a lamp can shine. A searchlight head has one lamp for
 * all its colours.
 *
 * @param id the lamp's name within its signal: {@code top-green}, {@code top} for the lamp of a
 *     whole head, {@code lamp} where that is the only head
 * @param failed the event that tells that it has failed
 * @param works the event that tells that it works
 */
public record LampProving(String id, EventId failed, EventId works) {

  /** What people call it: {@code top green lamp}. */
  public String name() {
    return id.equals("lamp") ? id : id.replace('-', ' ') + " lamp";
  }
}
