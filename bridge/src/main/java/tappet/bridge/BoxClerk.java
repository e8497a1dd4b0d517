package tappet.bridge;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.function.Consumer;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.box.BoxThread;
import tappet.bridge.box.SignalBox;
import tappet.bridge.health.Vitals;
import tappet.bridge.journal.JournalSearch;
import tappet.bridge.pages.Office;
import tappet.bridge.reload.Reload;
import tappet.bridge.view.KeptChart;
import tappet.bridge.view.Sight;
import tappet.bridge.web.Clerk;
import tappet.bridge.web.Health;
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

  private static final Logger LOG = LoggerFactory.getLogger(BoxClerk.class);

  private final BoxThread box;
  private final Views views;
  private final Ledgers ledgers;
  private final ChartFile chart;
  private final RailSide rails;
  private final Reload reload;
  private final Vitals vitals;

  BoxClerk(BoxRoom room, RailSide rails, Reload reload, Vitals vitals) {
    this.box = room.thread();
    this.views = room.views();
    this.ledgers = room.ledgers();
    this.chart = room.chart();
    this.rails = rails;
    this.reload = reload;
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
    return CompletableFuture.completedFuture(views.rules().get());
  }

  @Override
  public Reply reload(String wish) {
    return ReloadReply.to(wish, reload);
  }

  @Override
  public String reload() {
    return ReloadReply.json(reload.progress(), System.currentTimeMillis());
  }

  @Override
  public String reloadText() {
    return reload.progress().text();
  }

  @Override
  public CompletableFuture<JournalSearch.Sheet> journal(Map<String, String> asked) {
    return ledgers.search().ask(asked, System.currentTimeMillis());
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
    return beforehand(command)
        .thenCompose(kept -> done(command, sentence, who))
        .thenCompose(reply -> changesChart(command, reply) ? kept(reply) : completed(reply))
        .thenCompose(
            reply -> reply.kind() == Reply.Kind.DONE ? said(sentence, reply) : completed(reply));
  }

  /**
   * A lock opens as soon as its board hears of it, and a crash may come between: whom it is opened
   * for is kept before, so that none ever stands open without a name. One that did not open after
   * all is found secured by the next start.
   */
  private CompletableFuture<?> beforehand(Command command) {
    return command instanceof Command.Release release
        ? keep(() -> views.book().keptWith(release))
        : completed(command);
  }

  /** Waits for two things, which are flattened at once: the box's turn, and that it is kept. */
  @SuppressWarnings("FutureReturnValueIgnored")
  private CompletableFuture<Optional<String>> keep(Supplier<KeptChart> asItIsThen) {
    return box.ask((signalBox, nowNs) -> chart.keep(asItIsThen.get()))
        .thenCompose(keeping -> keeping);
  }

  /** What was refused changes nothing, but that the name that was kept beforehand may not stay. */
  private static boolean changesChart(Command command, Reply reply) {
    return reply.kind() == Reply.Kind.DONE
        ? isOnChart(command)
        : command instanceof Command.Release;
  }

  /** Who has a switch is kept with the chart: an open lock is nobody else's after a restart. */
  private static boolean isOnChart(Command command) {
    return command instanceof Command.OfChart
        || command instanceof Command.Release
        || command instanceof Command.Secure;
  }

  /**
   * Nobody is told that something is written before a restart would know of it. Where it cannot be
   * kept it is written all the same, since nobody's safety hangs on it, and that is said.
   */
  private CompletableFuture<Reply> kept(Reply reply) {
    return keep(views.book()::kept)
        .exceptionally(failure -> Optional.of(words(failure)))
        .thenApply(
            whyNot ->
                whyNot
                    .filter(why -> reply.kind() == Reply.Kind.DONE)
                    .map(why -> new Reply(reply.kind(), reply.text() + notKept(why)))
                    .orElse(reply));
  }

  private static String notKept(String why) {
    return "the next start will not know it: " + why + "\n";
  }

  private static String words(Throwable failure) {
    Throwable cause = failure instanceof CompletionException ? failure.getCause() : failure;
    return String.valueOf(cause.getMessage());
  }

  private static <T> CompletableFuture<T> completed(T value) {
    return CompletableFuture.completedFuture(value);
  }

  /** A train that stands on a section from now on is called so on the chart. */
  CompletableFuture<Boolean> begin(String train, String section) {
    return box.ask(
        (signalBox, nowNs) -> {
          views.book().begin(train, section);
          return true;
        });
  }

  private CompletableFuture<Reply> said(String sentence, Reply reply) {
    return afterwards(sentence, reply, () -> views.book().said(sentence));
  }

  /** What is done stays done, and is told so, whatever becomes of that which is noted after it. */
  private CompletableFuture<Reply> afterwards(String sentence, Reply reply, Runnable noting) {
    return box.ask(
            (signalBox, nowNs) -> {
              noting.run();
              return reply;
            })
        .exceptionally(
            failure -> {
              LOG.warn("A sentence was answered, and could not be noted: {}", sentence, failure);
              return reply;
            });
  }

  private CompletableFuture<Reply> done(Command command, String sentence, String who) {
    if (command instanceof Command.OfChart written) {
      return box.ask(
          (signalBox, nowNs) -> {
            Reply reply = reply(views.book().tell(written, who));
            ledgers.written(command, sentence, who, reply);
            return reply;
          });
    }
    if (command instanceof Command.OfTrain) {
      return rails
          .simulator()
          .map(railway -> railway.tell(command).thenApply(BoxClerk::reply))
          .orElseGet(() -> CompletableFuture.completedFuture(noSimulator()))
          .thenCompose(
              reply ->
                  afterwards(
                      sentence, reply, () -> ledgers.written(command, sentence, who, reply)));
    }
    return ask(command, sentence, who).thenApply(BoxClerk::reply);
  }

  /** Waits for two things, which are flattened at once: the box's turn, and that it is kept. */
  @SuppressWarnings("FutureReturnValueIgnored")
  private CompletableFuture<Answer> ask(Command command, String sentence, String who) {
    return box.ask(
            (signalBox, nowNs) -> {
              Consumer<Answer> answered = ledgers.told(who, sentence, nowNs);
              return answer(command, signalBox, nowNs)
                  .whenComplete((answer, fault) -> answered.accept(answer));
            })
        .thenCompose(answered -> answered);
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
