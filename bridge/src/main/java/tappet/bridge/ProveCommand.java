package tappet.bridge;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.CompletableFuture;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import tappet.bridge.proof.Account;
import tappet.bridge.proof.KeptVerdict;
import tappet.bridge.proof.ProofJson;
import tappet.bridge.proof.ProofReport;
import tappet.bridge.proof.RailroadFiles;
import tappet.bridge.proof.StoryTeller;
import tappet.interlocking.Compiled;
import tappet.layout.Layout;
import tappet.network.Network;
import tappet.proof.Equivalence;
import tappet.proof.Finding;
import tappet.proof.NetworkDigest;
import tappet.proof.Proof;
import tappet.proof.ProofMemory;
import tappet.proof.Property;
import tappet.proof.Verdict;
import tappet.proof.Watched;
import tappet.proof.edit.RowsThatNeverMatter;
import tappet.proof.track.LooseEnds;
import tappet.proof.track.Orders;
import tappet.proof.track.SafetyProperties;
import tappet.rules.RuleReader;
import tappet.source.Problems;

/** {@code tappet prove}. */
@Command(
    name = "prove",
    description = {
      "Proves that no order of trains, requests and failures makes the rules unsafe on this layout,",
      "or tells the shortest story in which they are. The verdict is kept beside the rules, where",
      "'tappet run' looks for it."
    },
    exitCodeListHeading = "Exit status:%n",
    exitCodeList = {
      "0:every property is proven",
      "1:a property is disproven, or a file has a mistake",
      "2:the command was not understood",
      "3:nothing is disproven, and something is not proven",
      "4:the proof could not be finished"
    },
    exitCodeOnExecutionException = ProveCommand.UNFINISHED,
    mixinStandardHelpOptions = true)
final class ProveCommand implements Callable<Integer> {

  /** The exit status of a proof that was not finished, and so says nothing of the rules. */
  static final int UNFINISHED = 4;

  @Mixin private RailroadArguments files;

  @Option(names = "--json", description = "print what is found as JSON")
  private boolean json;

  @Option(
      names = "--rows",
      description = "tell as well what could be left out of the rules without a difference")
  private boolean rows;

  @Option(
      names = "--export",
      paramLabel = "FOLDER",
      description = "write every question there for other solvers (DIMACS) and checkers (AIGER)")
  private Optional<Path> export;

  @Option(
      names = "--stories",
      paramLabel = "FOLDER",
      description =
          "where to write the scenario of each story; a folder 'stories' beside the rules, else")
  private Optional<Path> stories;

  @Option(
      names = "--memory",
      paramLabel = "FILE",
      description = {
        "where to keep what this proof has learned, so that the next one looks only at what an edit",
        "touches; a file in your cache folder if it is left out"
      })
  private Optional<Path> memoryFile;

  @Option(names = "--afresh", description = "do not use what an earlier proof has learned")
  private boolean afresh;

  /** A reload names the files that it has read, so as not to run others by their verdict. */
  @Option(
      names = "--digest",
      hidden = true,
      description = "prove the files only while this tells them from all others")
  private Optional<String> digest;

  @Override
  public Integer call() {
    try {
      return FileCheck.exitStatus(System.out, files::read, this::proveIfMeant);
    } catch (IOException | Error e) {
      return unfinished(e.toString());
    }
  }

  private static int unfinished(String why) {
    System.err.println("the proof could not be finished: " + why);
    return UNFINISHED;
  }

  private int proveIfMeant(OwnerFiles.Railroad railroad) throws IOException {
    return digest.isEmpty() || digest.get().equals(digest(railroad))
        ? prove(railroad)
        : unfinished("the files were edited, or this is another Tappet");
  }

  private static String digest(OwnerFiles.Railroad railroad) {
    return railroad.files().digest(railroad.compiled().network());
  }

  private int prove(OwnerFiles.Railroad railroad) throws IOException {
    Path learned = memoryFile.orElseGet(() -> MemoryFile.of(railroad.files().rules().file()));
    CompletableFuture<ProofMemory> memory = CompletableFuture.supplyAsync(() -> memory(learned));
    Layout plan = railroad.layout();
    Network network = railroad.compiled().network();
    LooseEnds ends =
        LooseEnds.of(plan, SafetyProperties.of(plan, network), plan.trains().stoppingDistance());
    Proof proof = proof(ends.watched(), memory.join());
    MemoryFile.write(memory.join(), learned);
    ProofReport report = report(proof, ends, railroad);
    System.out.print(json ? ProofJson.of(report) : report.text());
    keep(report, railroad.files(), network);
    if (rows) {
      tellRowsThatNeverMatter(proof, railroad);
    }
    if (export.isPresent()) {
      export(proof, export.get());
    }
    return report.answer().exitStatus();
  }

  private ProofReport report(Proof proof, LooseEnds ends, OwnerFiles.Railroad railroad) {
    StoryTeller teller = new StoryTeller(railroad.layout(), railroad.table(), ends.watched());
    StoryFiles told = new StoryFiles(storyFolder(railroad.files().rules().file()), railroad);
    return new ProofReport(
        proof.findings(),
        told.play(accounts(proof, teller)),
        proof.assumptions(),
        ends.found(proof::reach));
  }

  private Path storyFolder(Path rules) {
    return stories.orElseGet(() -> rules.resolveSibling("stories"));
  }

  private static Map<Property, Account> accounts(Proof proof, StoryTeller teller) {
    Map<Property, Account> accounts = new LinkedHashMap<>();
    for (Finding finding : proof.findings()) {
      if (finding.verdict() instanceof Verdict.Disproven disproven) {
        Property property = finding.property();
        accounts.put(property, teller.account(property, disproven.story()));
      }
    }
    return accounts;
  }

  private static void tellRowsThatNeverMatter(Proof proof, OwnerFiles.Railroad railroad) {
    RailroadFiles.Text rules = railroad.files().rules();
    Equivalence same = proof.equivalence();
    RowsThatNeverMatter.in(
            rules.text(),
            text -> compiled(new RailroadFiles.Text(rules.file(), text), railroad.layout()),
            network -> same.isShown(network, Orders::isOne))
        .forEach(
            row ->
                System.out.printf(
                    "never matters: %s:%d: %s%n", rules.file(), row.line(), row.words()));
  }

  private static Optional<Network> compiled(RailroadFiles.Text rules, Layout plan) {
    Problems problems = new Problems();
    return RuleReader.read(rules.file().toString(), rules.text(), plan, problems)
        .flatMap(table -> Compiled.of(plan, table, problems))
        .map(Compiled::network);
  }

  private static void export(Proof proof, Path folder) throws IOException {
    Files.createDirectories(folder);
    proof.export(name -> new BufferedOutputStream(Files.newOutputStream(folder.resolve(name))));
  }

  private ProofMemory memory(Path learned) {
    return afresh ? ProofMemory.none() : MemoryFile.read(learned);
  }

  private static Proof proof(Watched watched, ProofMemory memory) {
    try (ProofBar bar = new ProofBar()) {
      return Proof.of(watched, memory, bar);
    }
  }

  private static void keep(ProofReport report, RailroadFiles judged, Network network) {
    Path file = KeptVerdict.beside(judged.rules().file());
    try {
      KeptVerdict verdict =
          new KeptVerdict(
              report.answer(),
              judged.digest(),
              NetworkDigest.of(network),
              Instant.now().truncatedTo(ChronoUnit.SECONDS),
              report.open());
      verdict.write(file);
    } catch (IOException e) {
      System.err.printf(
          "%s: the verdict cannot be kept (%s); 'tappet run' will not know it%n", file, e);
    }
  }
}
