package tappet.bridge;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.bridge.box.BoxListener;
import tappet.bridge.box.BoxThread;
import tappet.bridge.box.SignalBox;
import tappet.bridge.box.Tempo;
import tappet.bridge.proof.KeptVerdict.Answer;
import tappet.bridge.proof.Standing;
import tappet.bridge.reload.Edition;
import tappet.bridge.reload.Follower;
import tappet.bridge.reload.OwnersDesk;
import tappet.bridge.reload.Progress;
import tappet.bridge.reload.Progress.Phase;
import tappet.bridge.reload.ProofProcess;
import tappet.bridge.reload.Reload;
import tappet.bridge.reload.Wish;
import tappet.interlocking.Interlocking;
import tappet.lcc.NodeId;

/** A reload beside a box that runs, of files that no proof has kept a verdict on. */
class ReloadTest {

  private static final Wish TRY = new Wish(true, Duration.ZERO, false);

  @TempDir static Path folder;

  private final BoxThread box = new BoxThread(Tempo.REAL);
  private OwnerFiles.Railroad railroad;

  @BeforeEach
  void startBox() throws IOException {
    QuickLine.write(folder);
    railroad = QuickLine.read(folder);
    NodeId node = NodeId.of("0A.57.00.00.00.01");
    box.start(new SignalBox(node, interlocking(), frame -> {}, new BoxListener() {}));
  }

  @AfterEach
  void endBox() {
    box.close();
  }

  private Interlocking interlocking() {
    return new Interlocking(railroad.layout(), railroad.table());
  }

  /** Files that never change, and a proof of them that tells this and ends so. */
  private class Desk implements OwnersDesk {
    private final String told;
    private final int status;

    Desk(String told, int status) {
      this.told = told;
      this.status = status;
    }

    @Override
    public Reading read() {
      Standing standing = new Standing(Answer.NOT_PROVEN, "nothing is known");
      Edition edition = new Edition(railroad.files(), interlocking(), standing);
      return new Reading(List.of(), Optional.of(edition));
    }

    @Override
    public ProofProcess prove(Edition edition) throws IOException {
      return ProofProcess.begin(
          List.of("sh", "-c", "echo \"$0\"; exit $1", told, Integer.toString(status)));
    }

    @Override
    public List<Follower> inTheBox() {
      return List.of();
    }

    @Override
    public List<Follower> besideTheBox() {
      return List.of();
    }
  }

  private Progress reloaded(OwnersDesk desk, boolean evenIfDisproven, Wish wish) {
    try (Reload reload = new Reload(box, desk, evenIfDisproven)) {
      assertTrue(reload.begin(wish));
      await().atMost(JavaProcess.PATIENCE).until(() -> !reload.progress().phase().isBusy());
      return reload.progress();
    }
  }

  // 49 CFR 236.18: what is put into service is what was found to be safe, and nothing else.
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          0   | proven       3 of   3 | POSSIBLE | the rules are proven, and the next start will not know
          1   | DISPROVEN    2 of   3 | REFUSED  | disproven rules do not take over; mend them, or see 'tappet run --help'
          1   | no Java could begin   | REFUSED  | the proof was broken off (exit status 1)
          3   | not proven   2 of   3 | REFUSED  | rules without a proof take over only by 'tappet reload --unproven'
          4   | the heap is full      | REFUSED  | the proof was broken off (exit status 4)
          137 | proven       1 of   3 | REFUSED  | the proof was broken off (exit status 137)
          """)
  void statusOfTheProofDecidesWhereNoVerdictIsKept(
      int status, String told, Phase phase, String line) {
    Progress progress = reloaded(new Desk(told, status), false, TRY);

    assertEquals(phase, progress.phase(), progress::text);
    assertTrue(progress.report().contains(told), progress::text);
    assertTrue(progress.report().contains(line), progress::text);
  }

  @Test
  void personMayTakeRulesWithoutAProofAndOnesThatAreDisprovenOnlyWithTheDaemonsLeave() {
    Wish unproven = new Wish(true, Duration.ZERO, true);
    assertEquals(Phase.POSSIBLE, reloaded(new Desk("", 4), false, unproven).phase());
    assertEquals(Phase.POSSIBLE, reloaded(new Desk("DISPROVEN", 1), true, TRY).phase());
    assertEquals(Phase.REFUSED, reloaded(new Desk("Java", 1), true, TRY).phase());
  }

  @Test
  void whoCannotFollowIsToldAndKeepsNoOtherFromItAndTheNewFilesRun() throws Exception {
    List<Edition> chart = new CopyOnWriteArrayList<>();
    List<Edition> pages = new CopyOnWriteArrayList<>();
    Desk desk =
        new Desk("proven", 0) {
          @Override
          public List<Follower> inTheBox() {
            return List.of(
                new Follower("the journal", next -> fail(new IllegalStateException("no room"))),
                new Follower("the bus", next -> fail(new StackOverflowError())),
                new Follower("the chart", chart::add));
          }

          @Override
          public List<Follower> besideTheBox() {
            return List.of(
                new Follower("MQTT", next -> fail(new IllegalStateException("no broker"))),
                new Follower("the pages", pages::add));
          }
        };

    Progress progress = reloaded(desk, false, new Wish(false, Duration.ZERO, false));

    assertEquals(Phase.DONE, progress.phase(), progress::text);
    assertTrue(progress.report().contains(notFollowed("the journal", "no room")), progress::text);
    assertTrue(progress.report().contains(notFollowed("MQTT", "no broker")), progress::text);
    assertTrue(progress.text().contains("the bus did not follow"), progress::text);
    assertEquals(1, chart.size());
    assertEquals(chart, pages);
    Interlocking runs = box.ask((signalBox, nowNs) -> signalBox.interlocking()).get();
    assertSame(chart.get(0).interlocking(), runs);
    assertFalse(box.ask((signalBox, nowNs) -> signalBox.hasFailed()).get());
  }

  private static String notFollowed(String who, String why) {
    return who
        + " did not follow (java.lang.IllegalStateException: "
        + why
        + "); restart the daemon when no train runs";
  }

  private static void fail(RuntimeException fault) {
    throw fault;
  }

  private static void fail(Error fault) {
    throw fault;
  }
}
