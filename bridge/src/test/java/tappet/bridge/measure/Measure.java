package tappet.bridge.measure;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import tappet.bridge.Faults;
import tappet.bridge.JavaProcess;
import tappet.bridge.Kills;
import tappet.measure.DraftMeasure;
import tappet.measure.ProofMeasure;
import tappet.measure.StepMeasure;

/**
 * Measures Tappet on this machine, as {@code bridge/bin/measure}: {@code reaction}, {@code step},
 * {@code draft}, {@code proof}, {@code footprint}, {@code relay}, {@code rehearse}, {@code pages},
 * {@code journal}, {@code day}, {@code beside-burners} or {@code all}; {@code --tiny} only shows
 * that measuring works. {@code kills [N [SEED]]}, {@code flood [SECONDS]} and {@code hunger} are
 * asked for alone.
 */
public final class Measure {

  private static final String ALL = "all";

  /** What takes long, or all that the machine has. */
  private static final List<String> ALONE = List.of("kills", "flood", "hunger");

  private static final int KILLS = 20;
  private static final int FLOOD_S = 30;

  private final PrintStream out;
  private final boolean tiny;

  /** What can be measured, in the order of {@code all}. */
  private final Map<String, Measurement> kinds = new LinkedHashMap<>();

  private interface Measurement {
    void run() throws Exception;
  }

  private Measure(PrintStream out, boolean tiny) {
    this.out = out;
    this.tiny = tiny;
    kinds.put("reaction", this::reaction);
    kinds.put("step", this::step);
    kinds.put("draft", this::draft);
    kinds.put("proof", this::proof);
    kinds.put("footprint", this::footprint);
    kinds.put("relay", this::relay);
    kinds.put("rehearse", this::rehearse);
    kinds.put("pages", this::pages);
    kinds.put("journal", this::journal);
    kinds.put("day", this::day);
    kinds.put("beside-burners", this::besideBurners);
  }

  public static void main(String[] arguments) throws Exception {
    List<String> given = new ArrayList<>(List.of(arguments));
    if (!given.isEmpty() && ALONE.contains(given.get(0))) {
      alone(given);
      return;
    }
    boolean tiny = given.remove("--tiny");
    new Measure(System.out, tiny).measure(given);
  }

  private static void alone(List<String> given) throws Exception {
    try (Folder folder = new Folder()) {
      switch (given.get(0)) {
        case "kills" -> kills(given);
        case "hunger" -> Faults.hunger(folder.path, System.out);
        default -> {
          int seconds = given.size() > 1 ? Integer.parseInt(given.get(1)) : FLOOD_S;
          Faults.flood(seconds, System.nanoTime(), folder.path, System.out);
        }
      }
    }
  }

  /**
   * {@code kills [N [SEED]]}: how often, and from which seed. What the daemon has written stays
   * where a kill shows a fault.
   */
  private static void kills(List<String> given) throws IOException {
    int times = given.size() > 1 ? Integer.parseInt(given.get(1)) : KILLS;
    long seed = given.size() > 2 ? Long.parseLong(given.get(2)) : System.nanoTime();
    Path kept = Files.createTempDirectory("tappet-kills");
    System.out.println("what the daemon writes: " + kept);
    Kills.run(times, seed, kept, JavaProcess::byScript, System.out);
    delete(kept);
  }

  /** One measurement in its tiny form, from classes that need not be packaged. */
  static void tiny(String kind, PrintStream out) throws Exception {
    new Measure(out, true).measure(List.of(kind));
  }

  private void measure(List<String> asked) throws Exception {
    List<String> wanted =
        asked.isEmpty() || asked.equals(List.of(ALL)) ? List.copyOf(kinds.keySet()) : asked;
    if (!kinds.keySet().containsAll(wanted)) {
      System.err.printf("usage: measure [%s|%s] [--tiny]%n", String.join("|", kinds.keySet()), ALL);
      System.exit(2);
    }
    out.println("machine: " + Machine.described());
    for (String kind : wanted) {
      kinds.get(kind).run();
    }
  }

  private void pages() throws IOException, InterruptedException {
    try (Folder folder = new Folder()) {
      if (tiny) {
        PagesMeasure.tiny(out)
            .measure(folder.path, Program::daemonFromClasses, Program::sessionFromClasses);
      } else {
        PagesMeasure.whole(out)
            .measure(folder.path, Program::daemonByScript, Program::sessionByScript);
      }
    }
  }

  private void journal() throws IOException, InterruptedException {
    try (Folder folder = new Folder()) {
      if (tiny) {
        new JournalMeasure(out, 2, 1_000).measure(folder.path, Program::daemonFromClasses);
      } else {
        new JournalMeasure(out, 90, 100_000).measure(folder.path, Program::daemonByScript);
      }
    }
  }

  private void day() throws IOException, InterruptedException {
    try (Folder folder = new Folder()) {
      if (tiny) {
        new DayMeasure(out, 2, Duration.ofMinutes(1))
            .measure(folder.path, Program::sessionFromClasses);
      } else {
        new DayMeasure(out, 12, Duration.ofHours(2)).measure(folder.path, Program::sessionByScript);
      }
    }
  }

  private void rehearse() throws IOException {
    (tiny ? RehearsalMeasure.tiny(out) : RehearsalMeasure.whole(out)).measure();
  }

  private void relay() throws Exception {
    RelayMeasure measure = tiny ? RelayMeasure.tiny() : RelayMeasure.whole();
    RelayMeasure.tell(measure.run(), out);
  }

  private void reaction() throws IOException, InterruptedException {
    try (Folder folder = new Folder()) {
      if (tiny) {
        new ReactionMeasure(out, 1, 2).measure(folder.path, Program::daemonFromClasses);
      } else {
        new ReactionMeasure(out, 10, 40).measure(folder.path, Program::daemonByScript);
      }
    }
  }

  private void besideBurners() throws Exception {
    try (Burners burners = Burners.light()) {
      out.printf("beside %d programs that never rest:%n", burners.count());
      reaction();
    }
  }

  private void step() {
    if (tiny) {
      StepMeasure.tiny(out);
    } else {
      StepMeasure.whole(out);
    }
  }

  private void draft() {
    if (tiny) {
      DraftMeasure.tiny(out);
    } else {
      DraftMeasure.whole(out);
    }
  }

  private void proof() throws IOException, InterruptedException {
    if (tiny) {
      ProofMeasure.tiny(out);
    } else {
      ProofMeasure.whole(out);
    }
  }

  private void footprint() throws IOException, InterruptedException {
    try (Folder folder = new Folder()) {
      Map<String, ReactionMeasure.Starter> daemons = new LinkedHashMap<>();
      if (tiny) {
        daemons.put("from classes", Program::daemonFromClasses);
        new FootprintMeasure(out, 1, 2).measure(folder.path, daemons);
      } else {
        daemons.put("with archive", Program::daemonByScript);
        daemons.put("without archive", Program::daemonWithoutArchive);
        FootprintMeasure measure = new FootprintMeasure(out, 7, 60);
        measure.measure(folder.path, daemons);
        measure.measureLibraries(folder.path);
      }
    }
  }

  /** A folder for settings, gone when closed. */
  private static final class Folder implements AutoCloseable {

    private final Path path = Files.createTempDirectory("tappet-measure");

    Folder() throws IOException {}

    @Override
    public void close() throws IOException {
      delete(path);
    }
  }

  private static void delete(Path folder) throws IOException {
    try (var files = Files.walk(folder)) {
      for (Path file : files.sorted(Comparator.reverseOrder()).toList()) {
        Files.delete(file);
      }
    }
  }
}
