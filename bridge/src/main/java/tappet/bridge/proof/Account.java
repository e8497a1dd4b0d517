package tappet.bridge.proof;

import static tappet.source.YamlText.quoted;

import java.util.List;
import tappet.proof.Beginning;
import tappet.source.Place;

/**
 * How a property comes to be broken, in the sentences of scenarios.
 *
 * @param property the property, in plain words
 * @param beginning how everything lies before
 * @param deeds what happens, one thing after the other
 * @param rows the rows of the rule file that it is about, the last one first
 * @param played what came of it when the simulated railway played it; empty before
 */
public record Account(
    String property, Beginning beginning, List<Deed> deeds, List<Place> rows, String played) {

  public Account {
    deeds = List.copyOf(deeds);
    rows = List.copyOf(rows);
  }

  /** The same, once it has been played. */
  public Account played(String outcome) {
    return new Account(property, beginning, deeds, rows, outcome);
  }

  /** Whether the railroad can play it: every deed has a sentence. */
  public boolean canBePlayed() {
    return deeds.stream().noneMatch(deed -> deed.kind() == Deed.Kind.UNSAID);
  }

  /** For people: how it begins, a numbered line a deed, and the rows to look at. */
  public String text() {
    StringBuilder text = new StringBuilder(beginning.words()).append('\n');
    for (int index = 0; index < deeds.size(); index++) {
      text.append(index + 1).append(". ").append(deeds.get(index).words()).append('\n');
    }
    text.append("Then it is not so: ").append(property).append('\n');
    rows.forEach(row -> text.append("look at ").append(row).append('\n'));
    text.append(played).append('\n');
    return text.toString();
  }

  /** The same as a scenario file, in which the railroad plays it. */
  public String scenario() {
    StringBuilder text = new StringBuilder();
    text.append(
        "# Written by 'tappet prove'. While the rules are as they are, this scenario fails.\n");
    text.append("scenario: ").append(quoted("not so: " + property)).append('\n');
    if (beginning == Beginning.JUST_STARTED) {
      text.append("begins: switched on\n");
    }
    text.append("steps:\n");
    if (beginning == Beginning.JUST_STARTED) {
      text.append("  - pass: 1 s\n");
    }
    for (Deed deed : deeds) {
      text.append("  - ").append(deed.kind().key()).append(": ").append(deed.sentence());
      text.append('\n');
    }
    return text.toString();
  }
}
