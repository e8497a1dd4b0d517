package tappet.layout;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import org.junit.jupiter.api.Test;
import tappet.lcc.NodeId;
import tappet.source.Problems;

class BoardTest {

  private static Layout with(String boards) {
    Problems problems = new Problems();
    var layout = LayoutReader.read("f", TinyLayout.TEXT + "boards:\n" + boards, problems);
    assertEquals(List.of(), problems.sorted());
    return layout.orElseThrow();
  }

  // S-9.7.0.4 §5.1: an event id normally starts with the six bytes of a node id
  @Test
  void boardCarriesTheDevicesWhoseEventsStartWithItsNodeId() {
    String prefix = TinyLayout.TEXT.replaceAll("(?s).*occupied: ((?:\\w\\w\\.){5}\\w\\w).*", "$1");
    var board = with("  west: {name: West board, node: " + prefix + "}\n").boards().get("west");
    assertEquals(NodeId.of(prefix), board.node());
    assertEquals("sections main, os; switch s; signal e", board.load());
  }

  @Test
  void boardThatListsItsDevicesCarriesThoseOnly() {
    var board = with("  far: {node: 0A.00.00.00.00.77, carries: [os, e]}\n").boards().get("far");
    assertEquals(List.of("os"), board.sections());
    assertEquals(List.of(), board.switches());
    assertEquals(List.of("e"), board.signals());
  }

  @Test
  void boardWithoutDevicesCarriesNothing() {
    var board = with("  far: {node: 0A.00.00.00.00.77}\n").boards().get("far");
    assertEquals("nothing", board.load());
  }
}
