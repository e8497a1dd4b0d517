package tappet.bridge;

import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.UnaryOperator;
import tappet.bridge.proof.KeptVerdict;
import tappet.bridge.proof.RailroadFiles;
import tappet.bridge.proof.Standing;
import tappet.bridge.reload.Edition;
import tappet.bridge.reload.Follower;
import tappet.bridge.replay.EventWords;
import tappet.bridge.view.BusLog;
import tappet.bridge.view.ChartBook;
import tappet.bridge.view.Facts;
import tappet.bridge.view.Mentions;
import tappet.bridge.view.RulesJson;
import tappet.bridge.view.SightTaker;
import tappet.interlocking.Compiled;
import tappet.interlocking.Interlocking;
import tappet.layout.Layout;

/**
 * What people see besides the box itself. All but the rules is touched on the box's thread only.
 *
 * @param book what people write on the chart
 * @param sights takes what is seen
 * @param bus who speaks on the bus
 * @param rules the rule file with what the proof has found, as a JSON object
 */
record Views(ChartBook book, SightTaker sights, BusLog bus, AtomicReference<String> rules) {

  /** What people see of a railroad that is about to be run. */
  static Views of(Charted charted) {
    Edition edition = charted.edition();
    var layout = edition.interlocking().layout();
    return new Views(
        charted.book(),
        new SightTaker(charted.book(), ofRules(edition.standing()), System::currentTimeMillis),
        new BusLog(layout, EventWords.of(layout), System::currentTimeMillis),
        new AtomicReference<>(rules(edition)));
  }

  /** An interlocking by rules that may take over; what it does is followed on the same chart. */
  Interlocking charted(Compiled rules) {
    return new Interlocking(rules, UnaryOperator.identity(), book);
  }

  /** Who of it follows on the box's thread when other files have taken over. */
  List<Follower> followers() {
    return List.of(
        new Follower("the chart", next -> book.goOn(next.interlocking())),
        new Follower("what people see", next -> sights.goOn(ofRules(next.standing()))),
        new Follower("who speaks on the bus", next -> bus(next.interlocking().layout())));
  }

  private void bus(Layout next) {
    bus.goOn(next, EventWords.of(next));
  }

  /** They have taken over, and there is time for what the box need not wait for. */
  void publish(Edition next) {
    rules.set(rules(next));
  }

  private static Facts ofRules(Standing standing) {
    return SightTaker.ofRules(standing.answer().word(), standing.words());
  }

  private static String rules(Edition edition) {
    RailroadFiles.Text file = edition.files().rules();
    Standing standing = edition.standing();
    Interlocking interlocking = edition.interlocking();
    RulesJson.Verdict verdict =
        new RulesJson.Verdict(
            standing.answer().word(), standing.words(), open(file.file(), standing));
    return new RulesJson(interlocking.table(), new Mentions(interlocking.layout()))
        .of(file.name(), file.text().lines().toList(), verdict, System.currentTimeMillis());
  }

  /** What is not proven of rules that stand so, one sentence each. */
  private static List<String> open(Path rules, Standing standing) {
    return KeptVerdict.read(KeptVerdict.beside(rules))
        .filter(kept -> kept.answer() == standing.answer())
        .map(KeptVerdict::open)
        .orElse(List.of());
  }
}
