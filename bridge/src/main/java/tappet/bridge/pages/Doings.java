package tappet.bridge.pages;

import io.netty.handler.codec.http.HttpResponseStatus;
import io.netty.handler.codec.http.QueryStringDecoder;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import tappet.bridge.pages.Refusals.Reason;
import tappet.bridge.web.Reply;
import tappet.sentence.Command;
import tappet.sentence.Sentences;
import tappet.source.Place;
import tappet.source.Problem;
import tappet.source.Problems;

/**
 * What people do by the pages: enter and leave, say sentences, move to another territory, and have
 * new files taken over. All but entering takes a session, and its token.
 */
final class Doings {

  private final Gate gate;

  Doings(Gate gate) {
    this.gate = gate;
  }

  void answer(Question question) {
    switch (question.path()) {
      case "/api/enter" -> enter(question);
      case "/api/tell" -> withToken(question, session -> tell(question, session));
      case "/api/leave" -> withToken(question, session -> leave(question, session));
      case "/api/reload" -> withToken(question, session -> reload(question, session));
      case "/api/territory" -> withToken(question, session -> move(question, session));
      default -> question.noSuchPage();
    }
  }

  private void enter(Question question) {
    Map<String, List<String>> form =
        new QueryStringDecoder(question.body(), StandardCharsets.UTF_8, false).parameters();
    String address = Desks.addressOf(question.context().channel());
    question.when(
        gate.enter(address, Guard.key(question.request()), form),
        entered -> answer(question, entered));
  }

  private static void answer(Question question, Gate.Entered entered) {
    entered.refused().ifPresent(question.desks().refusals()::count);
    entered
        .session()
        .ifPresent(session -> Answers.keepCookie(question.context(), Gate.cookie(session)));
    question.answer(HttpResponseStatus.valueOf(entered.status()), who(question, entered));
  }

  /** Who somebody is now, or why not. */
  private static String who(Question question, Gate.Entered entered) {
    long nowMs = question.desks().nowMs();
    return entered
        .session()
        .map(session -> ApiJson.me(nowMs, session))
        .orElseGet(() -> ApiJson.text(nowMs, entered.words()));
  }

  private void withToken(Question question, Consumer<Session> then) {
    Session session = gate.visitor(question);
    if (session.isNobody()) {
      question.forbid(
          Reason.NOT_ALLOWED, HttpResponseStatus.UNAUTHORIZED, "enter with a PIN first");
    } else if (!Guard.carriesToken(question.request(), session)) {
      question.forbid(
          Reason.NO_TOKEN,
          HttpResponseStatus.FORBIDDEN,
          "the token of your session is missing: send it as " + Guard.TOKEN_HEADER);
    } else {
      then.accept(session);
    }
  }

  private void tell(Question question, Session session) {
    String sentence = question.body();
    Problems problems = new Problems();
    Optional<Command> command = Sentences.command(sentence, Place.inText("sentence", 1), problems);
    if (command.isEmpty()) {
      notUnderstood(question, problems);
      return;
    }
    Office office = question.desks().office();
    question.when(
        gate.whyNot(session, command.get(), office::sight),
        whyNot ->
            whyNot.ifPresentOrElse(
                why -> question.forbid(Reason.NOT_ALLOWED, HttpResponseStatus.FORBIDDEN, why),
                () ->
                    question.when(
                        office.carryOut(command.get(), sentence, session.name()),
                        question::answer)));
  }

  private static void notUnderstood(Question question, Problems problems) {
    Problem first = problems.sorted().get(0);
    question.answer(new Reply(Reply.Kind.NOT_UNDERSTOOD, first.toString()));
  }

  private void leave(Question question, Session session) {
    gate.leave(session);
    Answers.keepCookie(question.context(), Gate.noCookie());
    question.ok(ApiJson.me(question.desks().nowMs(), Session.NOBODY));
  }

  private static void reload(Question question, Session session) {
    if (session.role() != Role.OWNER) {
      question.forbid(
          Reason.NOT_ALLOWED, HttpResponseStatus.FORBIDDEN, "that is for the owner to say");
      return;
    }
    question.answer(question.desks().office().reload(question.body()));
  }

  /** Gives a territory back, or takes one that is free: a hand-over is one after the other. */
  private void move(Question question, Session session) {
    Gate.Entered moved = gate.move(session, question.body().strip());
    question.answer(HttpResponseStatus.valueOf(moved.status()), who(question, moved));
  }
}
