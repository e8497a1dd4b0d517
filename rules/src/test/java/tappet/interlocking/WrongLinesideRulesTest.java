package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.rules.RuleReader;
import tappet.source.Problems;

/** What is told of mistakes about lamps, buttons, openings, districts and grade crossings. */
class WrongLinesideRulesTest {

  private static final String DEVICES =
      """
      openings:
        doorway: {sections: [east-near], closed: 0A.00.00.00.00.01.61.01, open: 0A.00.00.00.00.01.61.00}
      lamps:
        red: {lit: 0A.00.00.00.00.01.71.01, dark: 0A.00.00.00.00.01.71.00}
      buttons:
        call: {pressed: 0A.00.00.00.00.01.81.01, released: 0A.00.00.00.00.01.81.00}
      grade crossings:
        mill-road: {island: road, warn: 0A.00.00.00.00.01.A1.01, rest: 0A.00.00.00.00.01.A1.00}
      """;

  private static final String CROSSING =
      "grade crossings: [{crossing: mill-road, approaches: [[west-near]]}]\n";

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          indicators: [{lamp: rde, when: section road is clear}]             | this layout has no lamp 'rde'; did you mean 'red'?
          indicators: [{lamp: red}]                                          | the indicator lacks 'when'; add for example 'when: switch y1 is reverse'
          indicators: [{lamp: red, when: opening dorway is open}]            | this layout has no opening 'dorway'; did you mean 'doorway'?
          indicators: [{lamp: red, when: opening doorway is locked}]         | opening doorway has no lock; write 'opening doorway is closed'
          indicators: [{lamp: red, when: district west is tripped}]          | this layout has no power district 'west'; declare it first
          indicators: [{lamp: red, when: grade crossing mil-road is warning}] | this layout has no grade crossing 'mil-road'; did you mean 'mill-road'?
          requests: [{button: cal, asks: line w0e to w2e}]                   | this layout has no button 'cal'; did you mean 'call'?
          requests: [{button: call}]                                         | this button asks nothing; add for example 'asks: line t2e to t4e'
          requests: [{button: call, asks: line w0e to e2w}]                  | no route leads from w0e to e2w; the only one is w2e
          requests: [{button: call, asks: cancel w0f}]                       | this layout has no signal 'w0f'; did you mean 'w0e'?
          requests: [{button: call, asks: throw t1 reverse}]                 | this layout has no switch 't1'; declare it first
          requests: [{button: call, asks: unlock dorway}]                    | this layout has no opening 'dorway'; did you mean 'doorway'?
          requests: [{button: call, asks: fleet w0e to e2w}]                 | no route leads from w0e to e2w; the only one is w2e
          requests: [{button: call, asks: line route w0e-w2f}]               | this rule file has no route 'w0e-w2f'; did you mean 'w0e-w2e'?
          requests: [{button: call, asks: set traffic nowhere east}]         | this rule file has no line 'nowhere'; declare it first
          requests: [{button: call, asks: release qq1}]                      | this layout has no switch 'qq1'; declare it first
          requests: [{button: call, asks: secure qq1}]                       | this layout has no switch 'qq1'; declare it first
          requests: [{button: call, asks: block signal w0e for Anna}]        | the interlocking cannot be asked this; a button lines, cancels, throws, locks or unlocks
          requests: [{button: call, asks: acknowledge smoke}]                | the interlocking cannot be asked this; a button lines, cancels, throws, locks or unlocks
          requests: [{button: call, asks: start clock}]                      | the interlocking cannot be asked this; a button lines, cancels, throws, locks or unlocks
          requests: [{button: call, asks: lien w0e to w2e}]                  | 'lien' starts no command; did you mean 'line'?
          requests: [{button: call, asks: cancel w0e, granted: red, refused: red}] | lamp 'red' tells something else already, in line 10; name another one, or join them
          requests: [{button: call, asks: cancel w0e, shown: 0 s}]           | a time must be above 0; write for example '2 s'
          """)
  void mistakeIsTold(String rules, String expected) {
    assertEquals(List.of(expected), told(rules + "\n" + CROSSING));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          {crossing: mil-road, approaches: [[west-near]]}                    | this layout has no grade crossing 'mil-road'; did you mean 'mill-road'?
          {crossing: mill-road, approaches: [[west-naer]]}                   | this layout has no section 'west-naer'; did you mean 'west-near'?
          {crossing: mill-road, approaches: []}                              | a warning that starts on the road itself comes too late; write for example 'approaches: [[far, near]]'
          {crossing: mill-road, approaches: [[west-near, west-far]]}         | section 'west-far' does not lead to section 'road'; name each approach in the order of travel, the section next to the road last
          {crossing: mill-road, approaches: [[west-near, west-near]]}        | section 'west-near' stands twice on one way over the road; name each section once, and not the one that the road crosses
          {crossing: mill-road, approaches: [[road, west-near]]}             | section 'road' stands twice on one way over the road; name each section once, and not the one that the road crosses
          {crossing: mill-road, approaches: [[west-far, west-near], [west-near]]} | two approaches come by section 'west-near'; put them into one, with that section last
          {crossing: mill-road, approaches: [[west-near]], time-out: 0 s}    | a time must be above 0; write for example '2 s'
          {crossing: mill-road, approaches: [[west-near]], warning: soon}    | 'soon' is not a time with its unit (ms, s, min, h); write for example 'warning: 20 s'
          {crossing: mill-road, approaches: [[west-near]], started by: [w2e-g]} | this rule file has no route 'w2e-g'; did you mean 'w2e-f'?
          {crossing: mill-road, approaches: [[west-near]], started by: [e2w-a]} | route 'e2w-a' leads by no approach over section 'road'; name the routes on which a train goes on from an approach over the road
          """)
  void mistakeOfACrossingIsTold(String row, String expected) {
    assertTrue(
        told("grade crossings: [" + row + "]\n").contains(expected),
        () -> told("grade crossings: [" + row + "]\n").toString());
  }

  @Test
  void crossingWithoutARowIsTold() {
    assertEquals(
        List.of(
            "grade crossing 'mill-road' of the layout has no row, and would warn for ever; add for"
                + " example 'grade crossings: [{crossing: mill-road, approaches: [[far, near]],"
                + " time-out: 60 s}]'"),
        told(""));
  }

  /** Names of one kind are its own. */
  @Test
  void devicesOfTwoKindsMayHaveOneName() {
    var railroad =
        Lane.with(
            """
            lamps:
              west: {lit: 0A.00.00.00.00.01.71.01, dark: 0A.00.00.00.00.01.71.00}
            openings:
              west: {sections: [east-near], closed: 0A.00.00.00.00.01.61.01, open: 0A.00.00.00.00.01.61.00}
            """,
            "indicators: [{lamp: west, when: opening west is open}]\n");
    var desk = Desk.ready(railroad);
    assertTrue(desk.why("west").contains("opening west"), desk.why("west"));
  }

  @Test
  void whatTheReaderAcceptsFitsTheSchema() {
    var schema =
        SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
            .getSchema(Desk.config("schema/rules.schema.json"), InputFormat.JSON);
    var rules =
        Lane.RULES
            + CROSSING
            + "indicators: [{lamp: red, when: section road is clear}]\n"
            + "requests: [{button: call, asks: cancel w0e, on release: cancel w2e, shown: 2 s}]\n";
    assertEquals(List.of(), told(rules.substring(Lane.RULES.length())));
    assertEquals(List.of(), schema.validate(rules, InputFormat.YAML));
  }

  /** The problems of the lane's rules with these added, without their places. */
  private static List<String> told(String rules) {
    var layout = Lane.with(DEVICES, CROSSING).layout();
    var problems = new Problems();
    var unused = RuleReader.read("rules.yaml", Lane.RULES + rules, layout, problems);
    return problems.sorted().stream()
        .map(problem -> problem.wrong() + "; " + problem.meant())
        .toList();
  }
}
