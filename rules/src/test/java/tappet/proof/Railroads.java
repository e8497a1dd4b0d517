package tappet.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import tappet.interlocking.Interlocking;
import tappet.layout.LayoutReader;
import tappet.network.Network;
import tappet.proof.track.SafetyProperties;
import tappet.rules.RuleReader;
import tappet.source.Problems;

/** Railroads under watch: those of config, and the smallest on which anything can go wrong. */
final class Railroads {

  /** One section with a signal at each end of it. */
  private static final String BLOCK =
      """
      layout: 1
      name: A block
      joints: {a: [0, 0], b: [2, 0]}
      sections:
        block: {between: [a, b], length: 1 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
      signals:
        e: {at: a, into: block, shows: {stop: 0A.00.00.00.00.01.41.00, approach: 0A.00.00.00.00.01.41.01}}
        w: {at: b, into: block, shows: {stop: 0A.00.00.00.00.01.42.00, approach: 0A.00.00.00.00.01.42.01}}
      """;

  private static final String BLOCK_RULES =
      """
      rules: 1
      times: {loss of shunt: 2 s, start: 5 s}
      routes:
        - {from: e, to: b, speed: main, release: 5 s}
        - {from: w, to: a, speed: main, release: 5 s}
      aspects:
        main: {beyond stop: approach}
      """;

  /** One switch with a signal before its points. */
  private static final String FORK =
      """
      layout: 1
      name: A fork
      joints: {a: [0, 0], b: [2, 0], c: [2, 1]}
      sections:
        os: {length: 1 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
      switches:
        s:
          section: os
          points: a
          normal: b
          reverse: c
          to: {normal: 0A.00.00.00.00.01.21.00, reverse: 0A.00.00.00.00.01.21.01}
          at: {normal: 0A.00.00.00.00.01.31.00, reverse: 0A.00.00.00.00.01.31.01}
      signals:
        e: {at: a, into: os, shows: {stop: 0A.00.00.00.00.01.41.00, approach: 0A.00.00.00.00.01.41.01}}
      """;

  private static final String FORK_RULES =
      """
      rules: 1
      times: {loss of shunt: 2 s, start: 5 s}
      routes:
        - {from: e, to: b, switches: {s: normal}, speed: main, release: 5 s}
        - {from: e, to: c, switches: {s: reverse}, speed: main, release: 5 s}
      aspects:
        main: {beyond stop: approach}
      """;

  private Railroads() {}

  static Watched block() {
    return watched(BLOCK, BLOCK_RULES);
  }

  static Watched fork() {
    return watched(FORK, FORK_RULES);
  }

  /** The railroad in a folder of config. */
  static Watched config(String folder) {
    return watched(configText(folder, "layout.yaml"), configText(folder, "rules.yaml"));
  }

  /** The same without a watch on it. */
  static Network configUnwatched(String folder) {
    return interlocking(configText(folder, "layout.yaml"), configText(folder, "rules.yaml"))
        .network();
  }

  private static String configText(String folder, String file) {
    return text(Path.of("..", "config", folder, file));
  }

  private static Watched watched(String layoutText, String rulesText) {
    Interlocking interlocking = interlocking(layoutText, rulesText);
    return SafetyProperties.of(interlocking.layout(), interlocking.network());
  }

  private static Interlocking interlocking(String layoutText, String rulesText) {
    Problems problems = new Problems();
    var layout = LayoutReader.read("layout.yaml", layoutText, problems);
    var table = layout.flatMap(plan -> RuleReader.read("rules.yaml", rulesText, plan, problems));
    assertEquals(List.of(), problems.sorted());
    return new Interlocking(layout.orElseThrow(), table.orElseThrow());
  }

  private static String text(Path file) {
    try {
      return Files.readString(file);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
