package tappet.bridge;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.stream.Collectors;
import tappet.bridge.box.BoxThread;
import tappet.bridge.box.SignalBox;
import tappet.bridge.web.Clerk;
import tappet.bridge.web.Reply;
import tappet.interlocking.Answer;
import tappet.network.Explanation;
import tappet.sentence.Command;
import tappet.sentence.Sentences;
import tappet.source.NearNames;
import tappet.source.Place;
import tappet.source.Problem;
import tappet.source.Problems;

/** Answers the desk from the box, and from the simulator where a sentence is about a train. */
final class BoxClerk implements Clerk {

  private final BoxThread box;
  private final Optional<SimulatedLayout> simulator;

  BoxClerk(BoxThread box, Optional<SimulatedLayout> simulator) {
    this.box = box;
    this.simulator = simulator;
  }

  @Override
  public CompletableFuture<Reply> tell(String sentence) {
    Problems problems = new Problems();
    return Sentences.command(sentence, Place.inText("sentence", 1), problems)
        .map(this::carryOut)
        .orElseGet(() -> CompletableFuture.completedFuture(notUnderstood(problems)));
  }

  @Override
  public CompletableFuture<Reply> why(String name) {
    return box.ask(
        (signalBox, nowNs) ->
            signalBox
                .why(name, nowNs)
                .map(Explanation::text)
                .map(text -> new Reply(Reply.Kind.DONE, text))
                .orElseGet(() -> unknown(name, signalBox)));
  }

  @Override
  public CompletableFuture<List<String>> alarms() {
    return box.ask((signalBox, nowNs) -> signalBox.alarms());
  }

  /** Does what is asked, whoever it is that asks. */
  CompletableFuture<Reply> carryOut(Command command) {
    if (command instanceof Command.Run || command instanceof Command.Halt) {
      return simulator
          .map(railway -> railway.tell(command).thenApply(BoxClerk::reply))
          .orElseGet(() -> CompletableFuture.completedFuture(noSimulator()));
    }
    if (command instanceof Command.OfProtection order) {
      return protect(order).thenApply(BoxClerk::reply);
    }
    return box.ask((signalBox, nowNs) -> reply(signalBox.tell(command, nowNs)));
  }

  /** Waits for two things, which are flattened at once: the box's turn, and that it is kept. */
  @SuppressWarnings("FutureReturnValueIgnored")
  private CompletableFuture<Answer> protect(Command.OfProtection order) {
    return box.ask((signalBox, nowNs) -> signalBox.protect(order, nowNs)).thenCompose(kept -> kept);
  }

  private static Reply reply(Answer answer) {
    return answer.granted()
        ? new Reply(Reply.Kind.DONE, answer.explanation().text())
        : new Reply(Reply.Kind.REFUSED, "refused: " + answer.explanation().text());
  }

  private static Reply reply(Optional<String> whyNot) {
    return whyNot
        .map(reason -> new Reply(Reply.Kind.REFUSED, "refused: " + reason + "\n"))
        .orElseGet(() -> new Reply(Reply.Kind.DONE, "done\n"));
  }

  private static Reply noSimulator() {
    return new Reply(
        Reply.Kind.REFUSED, "refused: trains are told to run only where the simulator runs\n");
  }

  private static Reply notUnderstood(Problems problems) {
    String lines =
        problems.sorted().stream().map(Problem::toString).collect(Collectors.joining("\n"));
    return new Reply(Reply.Kind.NOT_UNDERSTOOD, lines + "\n");
  }

  private static Reply unknown(String name, SignalBox box) {
    return new Reply(
        Reply.Kind.UNKNOWN,
        "there is nothing named '%s'; %s\n"
            .formatted(name, NearNames.meant(name, box.names(), "the layout is empty")));
  }
}
