package tappet.bridge.browser;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.Locale;
import java.util.stream.Stream;
import org.openqa.selenium.Keys;
import org.openqa.selenium.OutputType;
import tappet.bridge.QuickDaemon;
import tappet.bridge.pages.Role;
import tappet.sentence.Command.Heading;

/** Takes the pictures of the README: {@code bridge/bin/pictures}. */
public final class Pictures {

  private final Path into;
  private final QuickDaemon daemon;
  private final Chromium page;

  private Pictures(Path into, QuickDaemon daemon, Chromium page) {
    this.into = into;
    this.daemon = daemon;
    this.page = page;
  }

  /**
   * Takes them.
   *
   * @param arguments the folder into which they go
   */
  public static void main(String[] arguments) throws IOException {
    Path scratch = Files.createTempDirectory("pictures");
    try (QuickDaemon daemon =
            QuickDaemon.start(
                Files.createDirectory(scratch.resolve("line")),
                QuickDaemon.train("Extra 41", "west-main", Heading.EAST),
                QuickDaemon.train("Mill Turn", "mill-branch", Heading.WEST),
                QuickDaemon.train("Extra 57", "fallow-2", Heading.EAST));
        Chromium page = new Chromium(scratch.resolve("profile"))) {
      new Pictures(Path.of(arguments[0]), daemon, page.at(daemon.host())).take();
    } finally {
      delete(scratch);
    }
  }

  private void take() throws IOException {
    page.night(false);
    page.open("dispatcher.html");
    page.untilSaid("section", "west-main", "occupied");
    page.enter("Take the desk", "dispatcher", "Anna", daemon.pin(Role.DISPATCHER));
    page.find("select[aria-label='Your territory']");
    tell("throw cr1 normal");
    tell("flag creamery by 'Plant crew' because 'car repair'");
    tell("line t2e to t6e");
    tell("block section fallow-1 for 'Section crew' because 'rail work'");
    page.untilSaid("signal", "t2e", "diverging");
    page.point("signal", "t6e");
    page.point("signal", "m2e");
    page.until(".slip header p", words -> words.getText().equals("can be lined"));
    picture("dispatcher.png");

    page.size(1280, 720);
    page.night(true);
    page.open("wall.html");
    page.until("body", body -> body.getText().contains("Fallow"));
    picture("wall.png");

    page.phone(390, 844);
    page.open("crew.html?place=corvane");
    page.until("body", body -> body.getText().contains("Plant crew"));
    picture("crew.png");
  }

  /** Says a sentence until it is done: nothing is given before the time since the start has run. */
  private void tell(String sentence) {
    page.until(
        ".answer",
        answer -> {
          page.fill("[aria-label='Order, as a sentence']", sentence);
          page.type(Keys.ENTER);
          return page.find(".answer").getText().toLowerCase(Locale.ROOT).contains("done");
        });
  }

  private void picture(String name) throws IOException {
    Files.write(into.resolve(name), page.driver().getScreenshotAs(OutputType.BYTES));
    System.out.println(into.resolve(name));
  }

  private static void delete(Path folder) throws IOException {
    try (Stream<Path> all = Files.walk(folder)) {
      for (Path one : all.sorted(Comparator.reverseOrder()).toList()) {
        Files.deleteIfExists(one);
      }
    }
  }
}
