package tappet.proof;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import tappet.proof.sat.Solver;

/** The SAT solvers of Debian that judge our own. */
enum OutsideSolver {
  CADICAL("cadical", "-q"),
  MINISAT("minisat"),
  Z3("z3", "-dimacs");

  /** The answer as the SAT competitions have it ("s SATISFIABLE"), or alone as minisat does. */
  private static final Pattern ANSWER =
      Pattern.compile("^(?:s )?(UN)?SATISFIABLE$", Pattern.MULTILINE);

  private final List<String> command;

  OutsideSolver(String... command) {
    this.command = List.of(command);
  }

  Solver.Outcome judge(Path formula) {
    List<String> withFormula = new ArrayList<>(command);
    withFormula.add(formula.toString());
    String printed = OutsideTool.run(command.get(0), withFormula);
    Matcher answer = ANSWER.matcher(printed);
    if (!answer.find()) {
      throw new AssertionError(String.join(" ", withFormula) + " gives no answer:\n" + printed);
    }
    return answer.group(1) == null ? Solver.Outcome.SATISFIED : Solver.Outcome.IMPOSSIBLE;
  }
}
