package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.record.Troubles;
import tappet.bridge.view.KeptChart;

/** The file that holds the chart over a restart. */
class ChartFileTest {

  @TempDir Path folder;
  private final Troubles troubles = new Troubles();

  @Test
  void whatIsKeptIsReadByTheNextStart() {
    try (ChartFile file = open()) {
      assertEquals(KeptChart.BLANK, file.read());
      assertEquals(Optional.empty(), file.keep(chart("tilling-w")).join());
      assertEquals(chart("tilling-w"), open().read());
    }
    assertEquals(List.of(), troubles.told());
  }

  @Test
  void namesThatMoveAreWrittenByTheEnd() {
    try (ChartFile file = open()) {
      for (String section : List.of("west-main", "tilling-w", "tilling-main")) {
        file.accept(chart(section));
      }
    }
    assertEquals(chart("tilling-main"), open().read());
  }

  @Test
  void damagedFileIsPutAsideAndToldAndBegunAnew() throws IOException {
    Path path = ChartFile.beside(folder.resolve("tappet.state"));
    Files.writeString(path, "train=1\n");
    try (ChartFile file = open()) {
      assertEquals(KeptChart.BLANK, file.read());
    }
    assertTrue(
        troubles
            .told()
            .get(0)
            .startsWith("happened: was damaged: tappet.state.chart cannot be read"),
        troubles.told()::toString);
    assertEquals("train=1\n", Files.readString(folder.resolve("tappet.state.chart.unread")));
  }

  @Test
  void fileThatCannotBeWrittenIsTold() throws IOException {
    Files.createDirectories(folder.resolve("tappet.state.chart.new"));
    try (ChartFile file = open()) {
      assertTrue(file.keep(chart("tilling-w")).join().orElseThrow().contains("cannot be written"));
    }
  }

  @Test
  void alarmGoesWhenTheFileIsWrittenAgain() throws IOException {
    Path way = Files.createDirectories(folder.resolve("tappet.state.chart.new"));
    try (ChartFile file = open()) {
      file.accept(chart("tilling-w"));
      Awaitility.await().atMost(JavaProcess.PATIENCE).until(() -> troubles.told().size() == 1);
      assertTrue(troubles.told().get(0).contains("cannot be written"), troubles.told()::toString);
      Files.delete(way);
      assertEquals(Optional.empty(), file.keep(chart("tilling-main")).join());
      assertEquals(Optional.empty(), file.keep(chart("west-main")).join());
    }
    assertEquals(List.of("over"), troubles.told().subList(1, troubles.told().size()));
  }

  private ChartFile open() {
    return new ChartFile(ChartFile.beside(folder.resolve("tappet.state")), troubles);
  }

  private static KeptChart chart(String section) {
    return new KeptChart(
        List.of(new KeptChart.Train("Extra 41", List.of(section), false)),
        List.of(),
        List.of(),
        Map.of());
  }
}
