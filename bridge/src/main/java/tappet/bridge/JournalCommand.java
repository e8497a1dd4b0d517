package tappet.bridge;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Clock;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.OptionalLong;
import java.util.concurrent.Callable;
import java.util.function.Supplier;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import tappet.bridge.journal.JournalPrinter;
import tappet.bridge.journal.Query;

/** {@code tappet journal}. */
@Command(
    name = "journal",
    description = {
      "Looks up in the journal what has happened, also while the daemon runs.",
      "Without options: everything but frames, oldest first."
    },
    exitCodeListHeading = "Exit status:%n",
    exitCodeList = {
      "0:what was asked for is printed",
      "1:the journal cannot be read, or there is no such session",
      "2:the command was not understood"
    },
    mixinStandardHelpOptions = true)
final class JournalCommand implements Callable<Integer> {

  private static final Pattern AGO = Pattern.compile("(\\d{1,6}) ?(m|min|h|d|days?)");

  @Parameters(
      paramLabel = "JOURNAL",
      description = "the journal, such as /var/lib/tappet/tappet.state.journal")
  private Path file;

  @Option(
      names = "--since",
      paramLabel = "TIME",
      description = "from this time on, such as 18:00 (today) or 2026-11-26T18:00")
  private Optional<String> since;

  @Option(names = "--until", paramLabel = "TIME", description = "before this time")
  private Optional<String> until;

  @Option(names = "--last", paramLabel = "TIME", description = "of the last such as 30m, 2h or 3d")
  private Optional<String> last;

  @Option(
      names = "--kind",
      paramLabel = "KINDS",
      description = {
        "only these, with commas: orders, alarms, aspects, switches, lineside, changes,",
        "protections, connections, daemon, frames"
      })
  private Optional<String> kinds;

  @Option(
      names = "--find",
      paramLabel = "TEXT",
      description = "only lines with this text, in capitals or not")
  private Optional<String> text;

  @Option(names = "--about", paramLabel = "NAME", description = "only of this device or connection")
  private Optional<String> about;

  @Option(names = "--who", paramLabel = "NAME", description = "only what this person said")
  private Optional<String> who;

  @Option(
      names = "--session",
      paramLabel = "NUMBER",
      description = "only what came after that start of the daemon")
  private Optional<Integer> session;

  @Option(names = "--limit", paramLabel = "N", description = "the last N lines of these")
  private Optional<Integer> limit;

  @ArgGroup private Form form = new Form();

  @Spec private CommandSpec command;

  private final Clock clock = Clock.system(ZoneId.systemDefault());

  /** How it is printed: for people unless one of these is given. */
  private static final class Form {

    @Option(names = "--csv", description = "as comma-separated values, for spreadsheets")
    private boolean csv;

    @Option(names = "--json-lines", description = "as JSON, an object a line, for programs")
    private boolean jsonLines;

    @Option(names = "--frames", description = "as a recording, for CAN tools and tappet replay")
    private boolean frames;

    @Option(names = "--sessions", description = "the sessions, a line each, instead")
    private boolean sessions;

    @Option(
        names = "--files",
        paramLabel = "FOLDER",
        description = "write layout and rules of a session into this folder instead")
    private Optional<Path> files = Optional.empty();
  }

  @Override
  public Integer call() {
    Query query = query();
    JournalPrinter.Paper paper = new JournalPrinter.Paper(out(), System.err);
    try (JournalPrinter printer = JournalPrinter.open(file, zone(), paper)) {
      return print(printer, query) ? 0 : 1;
    } catch (IOException e) {
      System.err.println(e.getMessage());
      return 1;
    }
  }

  /** What programs read is in UTF-8, whatever letters the console can show. */
  private PrintStream out() {
    return form.csv || form.jsonLines || form.frames
        ? new PrintStream(System.out, false, StandardCharsets.UTF_8)
        : System.out;
  }

  private boolean print(JournalPrinter printer, Query query) throws IOException {
    if (form.sessions) {
      return printer.sessions();
    } else if (form.files.isPresent()) {
      return printer.files(query, form.files.get());
    } else if (form.frames) {
      return printer.frames(query);
    } else if (form.csv) {
      return printer.csv(query);
    }
    return form.jsonLines ? printer.jsonLines(query) : printer.lines(query);
  }

  private ZoneId zone() {
    return clock.getZone();
  }

  private Query query() {
    if (last.isPresent() && since.isPresent()) {
      throw wrong("say --since or --last, not both");
    }
    if (limit.filter(lines -> lines < 1).isPresent()) {
      throw wrong("--limit is 1 or more");
    }
    OptionalLong from = since.isPresent() ? timeUs(since.get()) : ago();
    return new Query(
        from,
        until.isPresent() ? timeUs(until.get()) : OptionalLong.empty(),
        understood(() -> Query.topics(kinds.orElse(""))),
        text,
        about,
        who,
        session.map(OptionalInt::of).orElseGet(OptionalInt::empty),
        OptionalLong.empty(),
        limit.orElse(Query.NO_LIMIT),
        false);
  }

  private <T> T understood(Supplier<T> reading) {
    try {
      return reading.get();
    } catch (IllegalArgumentException e) {
      throw wrong(e.getMessage());
    }
  }

  private OptionalLong ago() {
    if (last.isEmpty()) {
      return OptionalLong.empty();
    }
    Matcher matcher = AGO.matcher(last.get());
    if (!matcher.matches()) {
      throw wrong("--last is '%s'; write such as 30m, 2h or 3d".formatted(last.get()));
    }
    long count = Long.parseLong(matcher.group(1));
    Duration ago =
        switch (matcher.group(2).charAt(0)) {
          case 'm' -> Duration.ofMinutes(count);
          case 'h' -> Duration.ofHours(count);
          default -> Duration.ofDays(count);
        };
    return OptionalLong.of(Query.before(clock.instant(), ago));
  }

  private OptionalLong timeUs(String written) {
    try {
      LocalDateTime local = local(written.strip().replace(' ', 'T').toUpperCase(Locale.ROOT));
      return OptionalLong.of(Query.before(local.atZone(zone()).toInstant(), Duration.ZERO));
    } catch (DateTimeException e) {
      throw wrong("'%s' is no time; write such as 18:00 or 2026-11-26T18:00".formatted(written));
    }
  }

  private LocalDateTime local(String written) {
    if (written.indexOf('-') < 0) {
      return LocalDate.now(clock).atTime(LocalTime.parse(written));
    }
    return written.indexOf('T') < 0
        ? LocalDate.parse(written).atStartOfDay()
        : LocalDateTime.parse(written);
  }

  private ParameterException wrong(String what) {
    return new ParameterException(command.commandLine(), what);
  }
}
