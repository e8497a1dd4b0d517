package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Path;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.bridge.proof.KeptVerdict.Answer;
import tappet.bridge.proof.Standing;

/**
 * The verdicts that come with the files in config are about those files, and about what this Tappet
 * makes of them. Where one is not, prove anew: {@code bridge/bin/tappet prove
 * config/demo/layout.yaml config/demo/rules.yaml}.
 */
class KeptVerdictsTest {

  @ParameterizedTest
  @ValueSource(strings = {"demo", "starter"})
  void rulesThatComeWithTappetAreProven(String name) {
    Path folder = Path.of("..", "config", name);
    Standing standing = QuickLine.read(folder).standing();
    assertEquals(Answer.PROVEN, standing.answer(), standing.words());
  }
}
