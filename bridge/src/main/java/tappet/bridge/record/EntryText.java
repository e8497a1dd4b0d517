package tappet.bridge.record;

import java.util.List;

/** The lines of a recording for one thing in it. */
public final class EntryText {

  private EntryText() {}

  /**
   * The lines, without their ends: one for a frame, one or more for anything else.
   *
   * @param bus the name of the bus, such as {@code can0}
   */
  public static List<String> lines(Entry entry, String bus) {
    if (entry.item() instanceof Item.Heard heard) {
      return List.of(FrameLogText.write(new LoggedFrame(entry.timeUs(), heard.frame()), bus));
    }
    if (entry.item() instanceof Item.Sent sent) {
      return List.of(
          FrameLogText.write(new LoggedFrame(entry.timeUs(), sent.frame()), bus)
              + FrameLogText.SENT);
    }
    return NoteText.write(Notes.of(entry.timeUs(), entry.item()));
  }
}
