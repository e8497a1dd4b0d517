package tappet.bridge;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.stream.Collectors;
import tappet.bridge.box.BoxThread;
import tappet.bridge.box.SignalBox;
import tappet.bridge.health.Vitals;
import tappet.bridge.pages.Office;
import tappet.bridge.record.SessionRecorder;
import tappet.bridge.view.Sight;
import tappet.bridge.web.Clerk;
import tappet.bridge.web.Reply;
import tappet.interlocking.Answer;
import tappet.interlocking.Candidate;
import tappet.network.Explanation;
import tappet.sentence.Command;
import tappet.sentence.Sentences;
import tappet.source.NearNames;
import tappet.source.Place;
import tappet.source.Problem;
import tappet.source.Problems;

/**
 * Answers desk and pages from the box, and from the simulator where a sentence is about a train.
 */
final class BoxClerk implements Clerk, Office {

  /** Who asks at the desk is not known there. */
  private static final String DESK = "the desk";

  private final BoxThread box;
  private final Optional<SimulatedLayout> simulator;
  private final Views views;
  private final Optional<SessionRecorder> recorder;
  private final Vitals vitals;

  BoxClerk(
      BoxThread box,
      Optional<SimulatedLayout> simulator,
      Views views,
      Optional<SessionRecorder> recorder,
      Vitals vitals) {
    this.box = box;
    this.simulator = simulator;
    this.views = views;
    this.recorder = recorder;
    this.vitals = vitals;
  }

  @Override
  public CompletableFuture<Reply> tell(String sentence) {
    Problems problems = new Problems();
    return Sentences.command(sentence, Place.inText("sentence", 1), problems)
        .map(command -> carryOut(command, sentence, DESK))
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

  @Override
  public CompletableFuture<Optional<Explanation>> whyIs(String name) {
    return box.ask((signalBox, nowNs) -> signalBox.why(name, nowNs));
  }

  @Override
  public CompletableFuture<Optional<Candidate>> way(String from, String to) {
    return box.ask((signalBox, nowNs) -> signalBox.interlocking().candidate(from, to, nowNs));
  }

  @Override
  public CompletableFuture<String> nodes() {
    return box.ask((signalBox, nowNs) -> views.bus().nodes(signalBox, System.currentTimeMillis()));
  }

  @Override
  public CompletableFuture<String> events(long after) {
    return box.ask((signalBox, nowNs) -> views.bus().events(after, System.currentTimeMillis()));
  }

  @Override
  public CompletableFuture<String> rules() {
    return CompletableFuture.completedFuture(views.rules());
  }

  @Override
  public CompletableFuture<Sight> sight() {
    return box.ask(views.sights()::take);
  }

  @Override
  public Health health() {
    return vitals.now();
  }

  /** Whoever has asked for the sentence need not ask any longer. */
  @Override
  public CompletableFuture<Reply> carryOut(Command command, String sentence, String who) {
    return done(command, sentence, who)
        .thenCompose(
            reply ->
                reply.kind() == Reply.Kind.DONE
                    ? box.ask((signalBox, nowNs) -> said(sentence, reply))
                    : CompletableFuture.completedFuture(reply));
  }

  /** A train that stands on a section from now on is called so on the chart. */
  CompletableFuture<Boolean> begin(String train, String section) {
    return box.ask(
        (signalBox, nowNs) -> {
          views.book().begin(train, section);
          return true;
        });
  }

  private Reply said(String sentence, Reply reply) {
    views.book().said(sentence);
    return reply;
  }

  private CompletableFuture<Reply> done(Command command, String sentence, String who) {
    if (command instanceof Command.OfChart written) {
      return box.ask((signalBox, nowNs) -> reply(views.book().tell(written, who)));
    }
    if (command instanceof Command.OfTrain) {
      return simulator
          .map(railway -> railway.tell(command).thenApply(BoxClerk::reply))
          .orElseGet(() -> CompletableFuture.completedFuture(noSimulator()));
    }
    return ask(command, sentence, who).thenApply(BoxClerk::reply);
  }

  /** Waits for two things, which are flattened at once: the box's turn, and that it is kept. */
  @SuppressWarnings("FutureReturnValueIgnored")
  private CompletableFuture<Answer> ask(Command command, String sentence, String who) {
    return box.ask(
            (signalBox, nowNs) ->
                recorder
                    .map(record -> recorded(record, who, sentence, command, signalBox, nowNs))
                    .orElseGet(() -> answer(command, signalBox, nowNs)))
        .thenCompose(answered -> answered);
  }

  private static CompletableFuture<Answer> recorded(
      SessionRecorder recorder,
      String who,
      String sentence,
      Command command,
      SignalBox box,
      long nowNs) {
    long number = recorder.told(who, Daemon.wallClock(), sentence, nowNs);
    return answer(command, box, nowNs)
        .whenComplete((answer, fault) -> recorder.answered(number, answer));
  }

  private static CompletableFuture<Answer> answer(Command command, SignalBox box, long nowNs) {
    return command instanceof Command.OfProtection order
        ? box.protect(order, nowNs)
        : CompletableFuture.completedFuture(box.tell(command, nowNs));
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
