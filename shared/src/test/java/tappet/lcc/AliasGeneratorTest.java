package tappet.lcc;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class AliasGeneratorTest {

  private static final JsonNode VECTORS = Vectors.read("alias-generation.json");

  static Stream<JsonNode> nodes() {
    return Stream.concat(
        Vectors.rows(VECTORS.get("vectors")), Stream.of(VECTORS.get("zero_alias_skipped")));
  }

  // TN-9.7.2.1 §6.1; zero is skipped by S-9.7.2.1 §6.3
  @ParameterizedTest
  @MethodSource("nodes")
  void nodeIdGivesThePublishedRowOfAliases(JsonNode row) {
    var aliases = new AliasGenerator(AliasSeed.of(NodeId.of(row.get("node_id").asText())));
    List<String> drawn = Stream.generate(aliases::next).limit(10).map("%03X"::formatted).toList();
    List<String> expected =
        Vectors.rows(row.get("first_10_aliases")).map(JsonNode::asText).toList();
    assertEquals(expected, drawn);
  }

  static Stream<JsonNode> publishedStates() {
    return Vectors.rows(VECTORS.get("published_examples").get("rows"));
  }

  // TN-9.7.2.1 Appendix A
  @ParameterizedTest
  @MethodSource("publishedStates")
  void publishedStateGivesThePublishedAliasAndNextState(JsonNode row) {
    long state = Long.parseLong(row.get("state").asText(), 16);
    assertEquals(Vectors.hex(row, "alias"), AliasGenerator.alias(state));
    assertEquals(Long.parseLong(row.get("next_state").asText(), 16), AliasGenerator.step(state));
  }

  // S-9.7.2.1 §6.3: no common first alias within 255 ids
  @Test
  void neighbouringNodesBeginWithDifferentAliases() {
    long base = NodeId.of("02.01.57.00.10.00").value();
    for (int distance = 1; distance <= 255; distance++) {
      for (int first = 0; first + distance <= 255; first++) {
        assertNotEquals(firstAlias(base + first), firstAlias(base + first + distance));
      }
    }
  }

  // S-9.7.2.1 §6.3: the algorithm parts two nodes that have drawn the same alias
  @Test
  void nodesThatDrewTheSameAliasPartAtTheNext() {
    var first = new AliasGenerator(AliasSeed.of(NodeId.of("02.01.21.00.00.12")));
    var second = new AliasGenerator(AliasSeed.of(NodeId.of("02.01.12.00.00.21")));
    assertEquals(first.next(), second.next());
    assertNotEquals(first.next(), second.next());
  }

  private static int firstAlias(long nodeId) {
    return new AliasGenerator(AliasSeed.of(new NodeId(nodeId))).next();
  }
}
