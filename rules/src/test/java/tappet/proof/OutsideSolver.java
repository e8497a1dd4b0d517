package tappet.proof;

import java.nio.file.Path;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import tappet.proof.sat.Solver;

/** The SAT solvers of Debian that judge our own. */
enum OutsideSolver {
  CADICAL("cadical", "-q"),
  MINISAT("minisat", "-verb=0"),
  Z3("z3", "-dimacs");

  /** The answer as the SAT competitions have it ("s SATISFIABLE"), or alone as minisat does. */
  private static final Pattern ANSWER =
      Pattern.compile("^(?:s )?(UN)?SATISFIABLE$", Pattern.MULTILINE);

  private final String program;
  private final String option;

  OutsideSolver(String program, String option) {
    this.program = program;
    this.option = option;
  }

  Solver.Outcome judge(Path formula) {
    String printed = OutsideTool.run(program, List.of(program, option, formula.toString()));
    Matcher answer = ANSWER.matcher(printed);
    if (!answer.find()) {
      throw new AssertionError(program + " gives no answer:\n" + printed);
    }
    return answer.group(1) == null ? Solver.Outcome.SATISFIED : Solver.Outcome.IMPOSSIBLE;
  }
}
