package tappet.bridge.pages;

import io.netty.handler.codec.http.HttpResponseStatus;
import io.netty.handler.codec.http.cookie.CookieHeaderNames.SameSite;
import io.netty.handler.codec.http.cookie.DefaultCookie;
import io.netty.handler.codec.http.cookie.ServerCookieEncoder;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Executor;
import java.util.function.LongSupplier;
import java.util.function.Predicate;
import java.util.function.Supplier;
import tappet.bridge.pages.Refusals.Reason;
import tappet.bridge.view.Sight;
import tappet.sentence.Command;

/** Lets people in by their PIN, and knows what each may do. On the event loop of the pages. */
final class Gate {

  private static final int NAME_MAX = 40;
  private static final String ALL = "";

  private final Pins pins;
  private Territories territories;
  private final Executor slowly;
  private final Executor loop;
  private final LongSupplier clockNs;
  private final Guesses guesses = new Guesses();
  private final Tries tries = new Tries();
  private final Sessions sessions = new Sessions();
  private CompletableFuture<?> before = CompletableFuture.completedFuture(null);

  /**
   * @param slowly where PINs are tried, which takes its time
   * @param loop where everything else happens
   * @param clockNs a clock that never runs back, in nanoseconds
   */
  Gate(Pins pins, Territories territories, Executor slowly, Executor loop, LongSupplier clockNs) {
    this.pins = pins;
    this.territories = territories;
    this.slowly = slowly;
    this.loop = loop;
    this.clockNs = clockNs;
  }

  /**
   * What came of somebody's wish.
   *
   * @param words why not, where there is no session
   */
  record Entered(Optional<Session> session, int status, String words, Optional<Reason> refused) {

    static Entered as(Session session) {
      return new Entered(Optional.of(session), HttpResponseStatus.OK.code(), "", Optional.empty());
    }

    static Entered not(HttpResponseStatus status, String words, Optional<Reason> reason) {
      return new Entered(Optional.empty(), status.code(), words, reason);
    }
  }

  /** The territories are of another layout now. */
  void goOn(Territories next) {
    territories = next;
  }

  /** Whose key it is; a session does not last longer by being looked at. */
  Session session(String key) {
    return sessions.find(key, clockNs.getAsLong()).orElse(Session.NOBODY);
  }

  /** Who asks. The session lasts for as long again, and so does the cookie of its browser. */
  Session visitor(Question question) {
    Session session =
        sessions.use(Guard.key(question.request()), clockNs.getAsLong()).orElse(Session.NOBODY);
    if (!session.isNobody()) {
      Answers.keepCookie(question.context(), cookie(session));
    }
    return session;
  }

  /**
   * Somebody at an address sends role, PIN, name and perhaps a territory.
   *
   * @param key what the browser has in its cookie: the session that it leaves by entering
   */
  CompletableFuture<Entered> enter(String address, String key, Map<String, List<String>> form) {
    String name = name(form);
    if (Role.of(field(form, "role")).filter(Role.WITH_PIN::contains).isEmpty()) {
      return now(bad("a role is crew, dispatcher or owner"));
    }
    if (name.isEmpty() || name.length() > NAME_MAX || name.chars().anyMatch(Gate::isOdd)) {
      return now(bad("say who you are, in 1 to %d characters".formatted(NAME_MAX)));
    }
    Optional<Entered> tooSoon = tooSoon(address);
    if (tooSoon.isPresent()) {
      return now(tooSoon.get());
    }
    if (!tries.begin(address)) {
      return now(tooMany("too many PINs at once; wait a moment"));
    }
    return afterThoseBefore(() -> tried(address, key, form))
        .whenCompleteAsync((entered, failure) -> tries.end(address), loop);
  }

  /** One PIN after the other: whether the last was wrong is known before the next is compared. */
  private CompletableFuture<Entered> afterThoseBefore(
      Supplier<CompletableFuture<Entered>> comparison) {
    CompletableFuture<Entered> coming = before.thenComposeAsync(none -> comparison.get(), loop);
    before = coming.handle((entered, failure) -> null);
    return coming;
  }

  private CompletableFuture<Entered> tried(
      String address, String key, Map<String, List<String>> form) {
    return tooSoon(address).map(Gate::now).orElseGet(() -> compared(address, key, form));
  }

  private CompletableFuture<Entered> compared(
      String address, String key, Map<String, List<String>> form) {
    Role role = Role.of(field(form, "role")).orElseThrow();
    return CompletableFuture.supplyAsync(() -> pins.fits(role, field(form, "pin")), slowly)
        .thenApplyAsync(fits -> fits ? right(address, role, key, form) : wrong(address), loop);
  }

  private Optional<Entered> tooSoon(String address) {
    long leftS = guesses.wait(address, clockNs.getAsLong()).toSeconds();
    return leftS > 0
        ? Optional.of(tooMany("too many wrong PINs; wait %d s".formatted(leftS)))
        : Optional.empty();
  }

  private static Entered tooMany(String words) {
    return Entered.not(
        HttpResponseStatus.TOO_MANY_REQUESTS, words, Optional.of(Reason.TOO_MANY_TRIES));
  }

  private static boolean isOdd(int character) {
    return Character.isISOControl(character) || character == '\'' || character == '"';
  }

  private Entered wrong(String address) {
    guesses.wrong(address, clockNs.getAsLong());
    int left = guesses.triesLeft(address);
    String words =
        left == 0 ? "wrong PIN; wait a while" : "wrong PIN; %d tries left".formatted(left);
    return Entered.not(HttpResponseStatus.FORBIDDEN, words, Optional.of(Reason.WRONG_PIN));
  }

  private Entered right(String address, Role role, String key, Map<String, List<String>> form) {
    guesses.right(address);
    String name = name(form);
    Optional<String> wanted = territory(field(form, "territory"));
    return whyNotTake(role, wanted, other -> other.key().equals(key) || other.isOf(role, name))
        .orElseGet(() -> Entered.as(begin(role, name, wanted, key)));
  }

  /** Whoever comes back takes the place of what they have left behind. */
  private Session begin(Role role, String name, Optional<String> wanted, String key) {
    sessions.end(key);
    holders(role, wanted).forEach(older -> sessions.end(older.key()));
    return sessions.begin(role, name, wanted, clockNs.getAsLong());
  }

  /**
   * Why nobody of a role can take a territory; empty where somebody can.
   *
   * @param own whether a session is of whoever wants it, and so not in the way
   */
  private Optional<Entered> whyNotTake(Role role, Optional<String> wanted, Predicate<Session> own) {
    if (wanted.isPresent() && !territories.names().contains(wanted.get())) {
      return Optional.of(bad("there is no territory '%s'".formatted(wanted.get())));
    }
    return holders(role, wanted).stream()
        .filter(own.negate())
        .findFirst()
        .map(
            other ->
                Entered.not(
                    HttpResponseStatus.CONFLICT,
                    "%s has %s; it must be given back first"
                        .formatted(other.name(), other.territory().orElse("the whole railroad")),
                    Optional.empty()));
  }

  /** Who has what a role wants to take; nobody where it is not divided. */
  private List<Session> holders(Role role, Optional<String> wanted) {
    return role != Role.DISPATCHER || territories.names().isEmpty()
        ? List.of()
        : sessions.holders(wanted, clockNs.getAsLong());
  }

  /** A dispatcher takes another territory, or with an empty name the whole railroad. */
  Entered move(Session session, String territory) {
    Optional<String> wanted = territory(territory);
    return whyNotTake(session.role(), wanted, other -> other.key().equals(session.key()))
        .orElseGet(() -> Entered.as(sessions.move(session, wanted)));
  }

  void leave(Session session) {
    sessions.end(session.key());
  }

  /**
   * Why somebody may not say a sentence; empty where they may.
   *
   * @param sight looks at the railroad
   */
  CompletableFuture<Optional<String>> whyNot(
      Session session, Command command, Supplier<CompletableFuture<Sight>> sight) {
    Optional<String> other =
        session.role() == Role.CREW
            ? holder(command).filter(holder -> !holder.equals(session.name()))
            : Optional.empty();
    return other
        .map(holder -> "that is for %s to say, and you are %s".formatted(holder, session.name()))
        .map(why -> CompletableFuture.completedFuture(Optional.of(why)))
        .orElseGet(() -> territories.whyNot(session.role(), session.territory(), command, sight));
  }

  /** In whose name a crew says a sentence; empty where it is said in nobody's. */
  private static Optional<String> holder(Command command) {
    if (command instanceof Command.Ask ask) {
      return Optional.of(ask.holder());
    }
    if (command instanceof Command.Flag flag) {
      return Optional.of(flag.holder());
    }
    if (command instanceof Command.Unflag unflag) {
      return Optional.of(unflag.holder());
    }
    if (command instanceof Command.ReturnPermit end) {
      return Optional.of(end.holder());
    }
    if (command instanceof Command.ThrowFor move) {
      return Optional.of(move.holder());
    }
    return Optional.empty();
  }

  static String cookie(Session session) {
    return cookie(session.key(), Sessions.IDLE.toSeconds());
  }

  /** Makes the browser forget. */
  static String noCookie() {
    return cookie("", 0);
  }

  private static String cookie(String key, long seconds) {
    DefaultCookie cookie = new DefaultCookie(Guard.COOKIE_NAME, key);
    cookie.setHttpOnly(true);
    cookie.setPath("/");
    cookie.setMaxAge(seconds);
    cookie.setSameSite(SameSite.Strict);
    return ServerCookieEncoder.STRICT.encode(cookie);
  }

  private static Optional<String> territory(String given) {
    return Optional.of(given).filter(name -> !name.equals(ALL));
  }

  private static String name(Map<String, List<String>> form) {
    return field(form, "name").strip();
  }

  private static String field(Map<String, List<String>> form, String name) {
    return form.getOrDefault(name, List.of("")).get(0);
  }

  private static Entered bad(String words) {
    return Entered.not(HttpResponseStatus.BAD_REQUEST, words, Optional.of(Reason.MALFORMED));
  }

  private static CompletableFuture<Entered> now(Entered entered) {
    return CompletableFuture.completedFuture(entered);
  }
}
