package tappet.source;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class NearNamesTest {

  // Common practice, no source: a suggestion is worth more the surer it is.
  @ParameterizedTest
  @CsvSource({
    "thorw, throw cancel line, throw",
    "t4x, t2e t4e t6e, t4e",
    "T4E, t2e t4e, t4e",
    "tilling-wset, tilling-west tilling-east, tilling-west",
    "lenght, length name, length",
    "x, a b c, ''",
    "j1, k2 m3, ''",
    "corvane, tilling fallow, ''",
    "t4e, '', ''",
  })
  void nearestIsWhatWasProbablyMeant(String written, String names, String nearest) {
    assertEquals(nearest, NearNames.nearest(written, words(names)).orElse(""));
  }

  @Test
  void firstOfEquallyNearNamesIsTaken() {
    assertEquals("j1", NearNames.nearest("j9", List.of("j1", "j2")).orElseThrow());
  }

  @Test
  void whereNoneIsNearTheNamesAreTold() {
    assertEquals("the only one is a1", NearNames.meant("tilling", List.of("a1"), "add one"));
    assertEquals(
        "there are a1, b1 and c1", NearNames.meant("tilling", List.of("a1", "b1", "c1"), ""));
    assertEquals("add one", NearNames.meant("tilling", List.of(), "add one"));
    assertEquals("did you mean 'a1'?", NearNames.meant("a2", List.of("a1"), "add one"));
  }

  @Test
  void manyNamesAreCutShort() {
    var names = IntStream.rangeClosed(1, 20).mapToObj(number -> "n" + number).toList();
    assertEquals("n1, n2, n3, n4, n5, n6, n7, n8 and 12 more", NearNames.few(names));
  }

  private static List<String> words(String names) {
    return Arrays.stream(names.split(" ")).filter(name -> !name.isEmpty()).toList();
  }
}
