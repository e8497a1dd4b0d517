package tappet.bridge;

import java.io.IOException;
import java.nio.file.Files;
import java.util.List;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.UnaryOperator;
import tappet.bridge.proof.KeptVerdict;
import tappet.bridge.proof.Standing;
import tappet.bridge.replay.EventWords;
import tappet.bridge.view.BusLog;
import tappet.bridge.view.ChartBook;
import tappet.bridge.view.Mentions;
import tappet.bridge.view.RulesJson;
import tappet.bridge.view.SightTaker;
import tappet.interlocking.Interlocking;
import tappet.layout.Layout;
import tappet.rules.ControlTable;

/**
 * What people see besides the box itself. All but the rules is touched on the box's thread only.
 *
 * @param book what people write on the chart
 * @param sights takes what is seen
 * @param bus who speaks on the bus
 * @param rules the rule file with what the proof has found, as a JSON object
 */
record Views(ChartBook book, SightTaker sights, BusLog bus, AtomicReference<String> rules) {

  /**
   * What people see of a railroad that is about to be run.
   *
   * @throws IOException if the rule file cannot be read any more
   */
  static Views of(Settings settings, Charted charted, Standing standing) throws IOException {
    var layout = charted.interlocking().layout();
    SightTaker sights =
        new SightTaker(
            charted.book(),
            SightTaker.ofRules(standing.answer().word(), standing.words()),
            System::currentTimeMillis);
    return new Views(
        charted.book(),
        sights,
        new BusLog(layout, EventWords.of(layout), System::currentTimeMillis),
        new AtomicReference<>(rules(settings, charted.interlocking(), standing)));
  }

  /** Compiles rules that may take over; what it does is followed on the same chart. */
  Interlocking charted(Layout layout, ControlTable table) {
    return new Interlocking(layout, table, UnaryOperator.identity(), book);
  }

  /** Other rules have taken over; on the box's thread. */
  void goOn(Interlocking next, Standing standing) {
    book.goOn(next);
    sights.goOn(SightTaker.ofRules(standing.answer().word(), standing.words()));
    bus.goOn(next.layout(), EventWords.of(next.layout()));
  }

  /**
   * The rule file as it is shown.
   *
   * @throws IOException if it cannot be read any more
   */
  static String rules(Settings settings, Interlocking interlocking, Standing standing)
      throws IOException {
    List<String> open =
        KeptVerdict.read(KeptVerdict.beside(settings.rules()))
            .filter(kept -> kept.answer() == standing.answer())
            .map(KeptVerdict::open)
            .orElse(List.of());
    Mentions mentions = new Mentions(interlocking.layout());
    return new RulesJson(interlocking.table(), mentions)
        .of(
            settings.rules().getFileName().toString(),
            Files.readAllLines(settings.rules()),
            standing.answer().word(),
            standing.words(),
            open,
            System.currentTimeMillis());
  }
}
