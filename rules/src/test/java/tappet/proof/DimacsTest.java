package tappet.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import org.junit.jupiter.api.Test;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.proof.sat.Dimacs;
import tappet.proof.sat.Unrolling;

/** The format is that of the second DIMACS challenge (1993), from memory. */
class DimacsTest {

  private final Dimacs dimacs = new Dimacs();

  @Test
  void formulaIsWrittenClauseByClauseWithWhatIsAssumed() throws IOException {
    int one = dimacs.fresh();
    int other = dimacs.fresh();
    dimacs.demand(one, -other);
    dimacs.demand();
    dimacs.explain(-other, "not\nthe other");
    assertEquals(
        """
        c -2 not the other
        p cnf 2 3
        1 -2 0
        0
        2 0
        """,
        text(other));
  }

  @Test
  void whatIsAssumedOnceIsNotKept() throws IOException {
    String before = text();
    dimacs.fresh();
    text(1);
    assertEquals(before.replace("cnf 0", "cnf 1"), text());
  }

  @Test
  void numbersThatNobodyAskedForAreRefused() {
    dimacs.fresh();
    assertThrows(IllegalArgumentException.class, () -> dimacs.demand(2));
    assertThrows(IllegalArgumentException.class, () -> dimacs.demand(1, 0));
    assertThrows(IllegalArgumentException.class, () -> dimacs.explain(-2, "nothing"));
    assertThrows(IllegalArgumentException.class, () -> text(-2));
  }

  @Test
  void whatIsWrittenOfANetworkIsNamedWithItsTick() throws IOException {
    NetworkBuilder builder = new NetworkBuilder();
    Variable input = builder.input("section main: clear", Words.through());
    builder.input("section yard: clear", Words.through());
    var network = builder.build();
    Unrolling unrolling = new Unrolling(network, dimacs, Unrolling.From.START);
    int literal = unrolling.literal(input, 1);
    dimacs.explainAll(network, unrolling, 2);
    String text = text();
    assertTrue(text.startsWith("c " + literal + " tick 1, section main: clear\np cnf "), text);
  }

  private String text(int... assumed) throws IOException {
    StringBuilder text = new StringBuilder();
    dimacs.write(text, assumed);
    return text.toString();
  }
}
