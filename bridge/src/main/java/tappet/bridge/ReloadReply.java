package tappet.bridge;

import java.util.Optional;
import tappet.bridge.reload.Progress;
import tappet.bridge.reload.Reload;
import tappet.bridge.reload.Wish;
import tappet.bridge.view.JsonText;
import tappet.bridge.web.Reply;

/** What is said to people who want new files to take over. */
final class ReloadReply {

  private static final String CANCEL = "cancel";

  private ReloadReply() {}

  static Reply to(String wish, Reload reload) {
    if (wish.strip().equals(CANCEL)) {
      return reload.cancel()
          ? new Reply(Reply.Kind.DONE, "it is called off\n")
          : new Reply(Reply.Kind.REFUSED, "refused: no reload is under way\n");
    }
    Optional<Wish> understood = Wish.of(wish);
    if (understood.isEmpty()) {
      return new Reply(
          Reply.Kind.NOT_UNDERSTOOD,
          "say 'try', 'apply', 'wait 60' (seconds, at most %d) or 'cancel'; 'unproven' may follow\n"
              .formatted(Wish.PATIENCE_MAX.toSeconds()));
    }
    return reload.begin(understood.get())
        ? new Reply(Reply.Kind.DONE, "it is begun\n")
        : new Reply(Reply.Kind.REFUSED, "refused: a reload is under way; wait, or cancel it\n");
  }

  static String json(Progress progress, long atMs) {
    return JsonText.object(
        json -> {
          json.writeNumberField("at", atMs);
          json.writeStringField("phase", progress.phase().word());
          json.writeStringField("words", progress.phase().words());
          json.writeBooleanField("busy", progress.phase().isBusy());
          JsonText.texts("report", progress.report(), json);
          JsonText.texts("against", progress.against(), json);
        });
  }
}
