package tappet.bridge.browser;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.openqa.selenium.Keys;
import tappet.bridge.QuickDaemon;
import tappet.bridge.pages.Role;
import tappet.sentence.Command.Heading;

/** A dispatcher at work, in a real browser. */
class DispatcherPageTest extends Browsers {

  @TempDir Path folder;
  private QuickDaemon daemon;

  @BeforeEach
  void open() throws IOException {
    daemon = QuickDaemon.start(folder, QuickDaemon.train("Extra 41", "west-main", Heading.EAST));
    page.at(daemon.host());
    page.open("dispatcher.html");
    page.untilSaid("section", "west-main", "occupied");
  }

  @AfterEach
  void close() {
    daemon.close();
  }

  private void takeTheDesk() {
    page.enter("Take the desk", "dispatcher", "Anna", daemon.pin(Role.DISPATCHER));
    page.find("select[aria-label='Your territory']");
  }

  /** Until the time since the start has run, the way is offered, but not free. */
  private void offer(String from, String to) {
    page.point("signal", from);
    page.point("signal", to);
    page.until(".slip header p", words -> words.getText().equals("can be lined"));
  }

  @Test
  void linesARouteByPointingRunsATrainAndCancelsWithItsTimeShown() {
    takeTheDesk();
    offer("t2e", "t4e");
    page.point("signal", "t4e");
    page.untilSaid("signal", "t2e", "route t2e-t4e lined");
    page.untilSaid("signal", "t2e", "approach");

    page.fill("[aria-label='Order, as a sentence']", "run 'Extra 41'");
    page.type(Keys.ENTER);
    page.untilSaid("section", "tilling-main", "train Extra 41");
    page.untilSaid("signal", "t2e", "stop");

    offer("f2e", "t2e");
    page.button("Line it");
    page.untilSaid("signal", "f2e", "route f2e-t2e lined");
    page.point("signal", "f2e");
    page.button("Cancel");
    page.untilSaid("signal", "f2e", "is given up in");
    page.until(
        Chromium.device("signal", "f2e"),
        signal -> !signal.getAttribute("aria-label").contains("route"));
  }

  @Test
  void worksByKeyboardAlone() {
    page.find(".masthead button").sendKeys(Keys.ENTER);
    page.find("dialog[open] [name=name]").sendKeys("Anna");
    page.type(Keys.TAB, daemon.pin(Role.DISPATCHER), Keys.ENTER);
    page.find("select[aria-label='Your territory']");
    focus("signal", "t2e");
    page.type(Keys.ENTER);
    page.until(".slip h2", title -> title.getText().contains("2E"));
    focus("signal", "t4e");
    page.type(Keys.ENTER);
    page.until(".slip header p", words -> words.getText().equals("can be lined"));
    focus("signal", "t4e");
    page.type(Keys.ENTER);
    page.untilSaid("signal", "t2e", "route t2e-t4e lined");
    page.type(Keys.ESCAPE);
  }

  /** Walks over the chart by its arrow keys until a device has the focus. */
  private void focus(String kind, String id) {
    page.driver().executeScript("document.querySelector('#chart [tabindex=\"0\"]').focus()");
    for (int step = 0; step < 200; step++) {
      Object here =
          page.driver()
              .executeScript(
                  "const at = document.activeElement.dataset; return at.kind + ':' + at.id");
      if (here.equals(kind + ":" + id)) {
        return;
      }
      page.type(Keys.ARROW_RIGHT);
    }
    throw new AssertionError("no arrow key leads to " + kind + " " + id);
  }

  @Test
  void twoBrowsersAreInStep() {
    takeTheDesk();
    other.at(daemon.host());
    other.open("dispatcher.html");
    other.untilSaid("section", "west-main", "occupied");
    offer("t2e", "t4e");
    page.button("Line it");
    other.untilSaid("signal", "t2e", "route t2e-t4e lined");
    other.untilSaid("section", "tilling-main", "held by route t2e-t4e");
  }

  @Test
  void aWrongPinLetsNobodyIn() {
    page.enter("Take the desk", "dispatcher", "Anna", "wrong");
    page.until("#enter-wrong", words -> words.getText().equals("wrong PIN; 4 tries left"));
  }

  @Test
  void refusalSaysWhyAndMarksIt() {
    takeTheDesk();
    page.point("signal", "f2e");
    page.point("signal", "t2e");
    page.until(".slip .told", words -> words.getText().contains("section west-main"));
  }

  @Test
  void aLostDaemonIsToldInLargeLettersAndNothingOldPassesForLive() {
    daemon.close();
    page.until(".lost", banner -> banner.getText().contains("Daemon lost"));
    assertTrue(
        (Boolean) page.driver().executeScript("return document.querySelector('main').inert"));
    double size =
        ((Number)
                page.driver()
                    .executeScript(
                        "return parseFloat(getComputedStyle(document.querySelector('.lost strong')).fontSize)"))
            .doubleValue();
    assertTrue(size >= 24, "the banner is %s px high".formatted(size));
  }

  @Test
  void fitsAPhone() {
    page.phone(390, 844);
    page.open("dispatcher.html");
    page.untilSaid("section", "west-main", "occupied");
    assertEquals(0, page.overflow());
  }

  // Chromium draws as people see who lack colours, after Machado, Oliveira and Fernandes, "A
  // Physiologically-based Model for Simulation of Color Vision Deficiency", 2009 (from memory).
  @ParameterizedTest
  @CsvSource({"false", "true"})
  void everySignIsToldApartByThoseWhoLackColours(boolean night) throws IOException {
    page.night(night);
    page.size(1400, 2400);
    page.button("Key");
    page.find(".key-dialog[open] .key li");
    for (String lacking :
        List.of("none", "protanopia", "deuteranopia", "tritanopia", "achromatopsia")) {
      page.seenWith(lacking);
      Signs signs = Signs.of(page);
      assertTrue(signs.count() > 25, () -> "only " + signs.count() + " signs");
      assertEquals(List.of(), signs.alike(), lacking);
    }
  }

  @Test
  void boundaryOfTerritoriesIsDrawnAndTellsTheDispatchersOwn() {
    takeTheDesk();
    page.until(".boundary text", side -> side.getText().equals("west"));
    page.find("select[aria-label='Your territory']").sendKeys("west");
    page.until(".boundary .own", own -> own.getText().equals("west (yours)"));
  }

  @ParameterizedTest
  @CsvSource({"dispatcher.html, false", "dispatcher.html, true", "index.html, false"})
  void hasNoSeriousBarrier(String name, boolean night) throws IOException {
    page.night(night);
    page.open(name);
    page.until("body", body -> !body.getText().isBlank());
    if (name.startsWith("dispatcher")) {
      page.untilSaid("section", "west-main", "occupied");
      takeTheDesk();
      page.point("signal", "t2e");
      page.find(".slip h2");
    }
    assertEquals("", page.seriousFindings());
  }
}
