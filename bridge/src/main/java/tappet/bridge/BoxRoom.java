package tappet.bridge;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import tappet.bridge.box.BoxThread;
import tappet.bridge.box.ProtectionText;
import tappet.bridge.box.SignalBox;
import tappet.bridge.hub.Hub;
import tappet.bridge.journal.Journal;
import tappet.bridge.journal.OwnerFile;
import tappet.bridge.pages.NewsStand;
import tappet.bridge.proof.KeptVerdict;
import tappet.bridge.proof.RailroadFiles;
import tappet.bridge.proof.Standing;
import tappet.bridge.record.Item;
import tappet.bridge.reload.Edition;
import tappet.bridge.reload.Follower;
import tappet.bridge.web.Watchers;

/**
 * The box where it works: with what it remembers over a stop, what it writes down, and what people
 * see of it.
 */
final class BoxRoom implements AutoCloseable {

  private final BoxThread thread;
  private final Views views;
  private final NewsStand news;
  private final Watchers watchers = new Watchers();
  private final KeptFiles kept;
  private final SignalBox box;
  private final Item.Started beginning;
  private final Ledgers ledgers;
  private final Optional<Path> recording;

  /** How the rules stand that run; since the start on the box's thread only. */
  private Standing standing;

  /** Makes all ready; nothing happens before the {@link #start}. */
  BoxRoom(BoxThread thread, Hub hub, Settings settings, Charted charted) {
    Edition edition = charted.edition();
    this.thread = thread;
    this.recording = settings.extras().record();
    views = Views.of(charted);
    news = new NewsStand(charted.book(), System::currentTimeMillis);
    kept = new KeptFiles(settings, thread);
    kept.restore(charted.book());
    box =
        new SignalBox(
            settings.node(),
            edition.interlocking(),
            hub::send,
            watchers,
            kept.outfit(settings.clock()));
    doubt(edition.standing());
    beginning = beginning(settings, edition);
    ledgers = new Ledgers(settings.journal(), beginning(edition.files()), box, thread);
  }

  private Item.Started beginning(Settings settings, Edition edition) {
    return new Item.Started(
        Tappet.version(),
        edition.interlocking().layout().name(),
        settings.node(),
        kept.state().aliasSeed(),
        settings.clock(),
        ProtectionText.of(kept.protections()));
  }

  private Journal.Beginning beginning(RailroadFiles files) {
    return new Journal.Beginning(beginning, ownerFile(files.layout()), ownerFile(files.rules()));
  }

  private static OwnerFile ownerFile(RailroadFiles.Text file) {
    return new OwnerFile(file.name(), file.text());
  }

  /**
   * Lets the box begin.
   *
   * @throws IOException if it cannot be recorded as the owner wants it
   */
  void start() throws IOException {
    if (recording.isPresent()) {
      ledgers.record(recording.get(), beginning);
    }
    ledgers.follow(box);
    box.tellToo(news);
    box.tellToo(views.bus());
    thread.start(box);
    kept.noteThatItRuns();
  }

  /** Who follows on the box's thread when other files have taken over. */
  List<Follower> followers() {
    List<Follower> followers = new ArrayList<>(views.followers());
    followers.add(new Follower("the journal", this::writeDown));
    followers.add(new Follower("the alarm of rules without a proof", this::doubtOnly));
    return followers;
  }

  private void writeDown(Edition next) {
    ledgers.runsBy(ownerFile(next.files().layout()), ownerFile(next.files().rules()));
  }

  private void doubtOnly(Edition next) {
    box.rulesNoLongerInDoubt(standing.words());
    doubt(next.standing());
  }

  /** Rules that are not proven are an alarm for as long as they run. */
  private void doubt(Standing rules) {
    standing = rules;
    if (rules.answer() != KeptVerdict.Answer.PROVEN) {
      box.rulesInDoubt(rules.words());
    }
  }

  /** Where the box is asked. */
  BoxThread thread() {
    return thread;
  }

  /** What people see besides the box itself. */
  Views views() {
    return views;
  }

  /** Who hears what is new on the pages. */
  NewsStand news() {
    return news;
  }

  /** Who watches from the command line. */
  Watchers watchers() {
    return watchers;
  }

  /** What is written down. */
  Ledgers ledgers() {
    return ledgers;
  }

  /** Where the chart is kept. */
  ChartFile chart() {
    return kept.chart();
  }

  /** Puts every signal to Stop and ends when all is written. */
  @Override
  public void close() {
    thread.close();
    kept.close();
    ledgers.close();
  }
}
