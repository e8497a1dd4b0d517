package tappet.bridge.browser;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.support.ui.Select;
import tappet.bridge.QuickDaemon;
import tappet.bridge.pages.Role;
import tappet.sentence.Command.Heading;

/** Crew, wall and owner, in a real browser. */
class OtherPagesTest extends Browsers {

  @TempDir Path folder;
  private QuickDaemon daemon;

  @BeforeEach
  void open() throws IOException {
    daemon = QuickDaemon.start(folder, QuickDaemon.train("Extra 41", "west-main", Heading.EAST));
    page.at(daemon.host());
  }

  @AfterEach
  void close() {
    daemon.close();
  }

  @Test
  void crewAsksForAPermitAndTheDispatcherGivesIt() {
    page.phone(390, 844);
    page.open("crew.html?place=corvane");
    page.enter("Enter as a crew", "crew", "Way Freight", daemon.pin(Role.CREW));
    page.button("Ask for a permit");
    page.press(".sheet input[type=checkbox]");
    page.button("Ask the dispatcher");
    Chromium desk = other.at(daemon.host());
    desk.open("dispatcher.html");
    desk.untilSaid("section", "west-main", "occupied");
    desk.enter("Take the desk", "dispatcher", "Anna", daemon.pin(Role.DISPATCHER));
    grantUntilItIsGiven(desk);
    page.until(".dock", dock -> dock.getText().contains("Return my permit"));
    assertEquals(0, page.overflow());
  }

  @Test
  void crewPutsItsBlueFlagUpAndTakesItDown() {
    Chromium desk = other.at(daemon.host());
    desk.open("dispatcher.html");
    desk.enter("Take the desk", "dispatcher", "Anna", daemon.pin(Role.DISPATCHER));
    desk.find("select[aria-label='Your territory']");
    page.phone(390, 844);
    page.open("crew.html?place=corvane");
    page.enter("Enter as a crew", "crew", "Plant crew", daemon.pin(Role.CREW));
    page.until(".dock", dock -> dock.getText().contains("Ask for a permit"));
    page.untilSaid("section", "creamery", "free");
    page.pointUntil(
        "section", "creamery", () -> page.find(".dock").getText().contains("blue flag"));
    page.buttonUntil(
        "Put up my blue flag",
        () ->
            page.find(".dock").getText().contains("Take my blue flag down")
                || sendGuardAgain(desk));
    page.untilSaid("section", "creamery", "blue flag of Plant crew");
    assertEquals(0, page.overflow());
    page.buttonUntil(
        "Take my blue flag down",
        () -> page.find(".dock").getText().contains("Put up my blue flag"));
    page.untilSaid("section", "creamery", "free");
  }

  /** Nothing is moved before the time since the start has run. */
  private static boolean sendGuardAgain(Chromium desk) {
    desk.fill("[aria-label='Order, as a sentence']", "throw cr1 normal");
    desk.type(Keys.ENTER);
    return false;
  }

  /** Nothing is given before the time since the start has run. */
  private static void grantUntilItIsGiven(Chromium desk) {
    desk.find(".ledger .chief");
    desk.until(
        ".ledgers",
        ledgers -> {
          if (!ledgers.getText().contains("permit of Way Freight")) {
            desk.driver()
                .executeScript(
                    "[...document.querySelectorAll('.ledger .chief')]"
                        + ".filter(button => button.textContent.trim() === 'Grant')"
                        + ".forEach(button => button.click())");
          }
          return desk.find(".ledgers").getText().contains("permit of Way Freight");
        });
  }

  @Test
  void alarmStandsOnEveryPageUntilItGoesAndTellsWhoHasSeenIt(@TempDir Path doubt)
      throws IOException {
    try (QuickDaemon inDoubt = QuickDaemon.startInDoubt(doubt)) {
      Chromium desk = other.at(inDoubt.host());
      desk.open("wall.html");
      desk.until("body", wall -> wall.getText().contains("the rules have not been proven"));
      desk.open("dispatcher.html");
      desk.until(".alarms", alarms -> alarms.getText().contains("have not been proven"));
      desk.enter("Take the desk", "dispatcher", "Anna", inDoubt.pin(Role.DISPATCHER));
      desk.button("Acknowledge: the rules have not been proven");
      desk.until(".alarms", alarms -> alarms.getText().contains("acknowledged by Anna"));
      assertEquals("", desk.seriousFindings());
    }
  }

  @Test
  void wallShowsWhatIsHiddenAndCommandsNothing() {
    page.size(1920, 1080);
    page.open("wall.html");
    page.until("body", body -> body.getText().contains("Fallow"));
    assertEquals(0, page.driver().findElements(By.tagName("button")).size());
    assertEquals(0, page.overflow());
  }

  @Test
  void ownerSeesTheRulesBesideTheirVerdictAndAsksWhy() {
    page.open("owner.html");
    page.enter("Enter as the owner", "owner", "Olga", daemon.pin(Role.OWNER));
    page.open("owner.html#rules");
    page.until("main", sheet -> sheet.getText().contains("from: f2e"));
    page.until("main", sheet -> sheet.getText().contains("proven"));
    page.open("owner.html#bus");
    page.until("main", sheet -> sheet.getText().contains("Tilling board"));
    page.open("owner.html#graph");
    page.until("main", sheet -> sheet.getText().contains("Extra 41"));
  }

  @Test
  void ownerTakesTheRulesAndTheDiaryAwayAsFiles(@TempDir Path downloads) throws IOException {
    page.keepDownloads(downloads);
    page.open("owner.html");
    page.enter("Enter as the owner", "owner", "Olga", daemon.pin(Role.OWNER));
    page.until("body", body -> body.getText().contains("owner Olga"));
    page.open("owner.html#files");
    page.button("The rules");
    assertEquals(
        Files.readString(folder.resolve("rules.yaml")), page.downloaded(downloads, "rules.yaml"));
    page.button("The diary");
    assertTrue(page.downloaded(downloads, ".json").contains("Extra 41"));
  }

  @Test
  void ownerSearchesTheJournalAndTakesALookAtFramesToo() throws IOException {
    page.open("owner.html");
    page.enter("Enter as the owner", "owner", "Olga", daemon.pin(Role.OWNER));
    page.open("owner.html#happened");
    page.until("main", sheet -> sheet.getText().contains("These as CSV"));
    new Select(page.find("#sheet select")).selectByValue("frames");
    page.until("main", sheet -> sheet.getText().contains("200 lines"));
    page.button("Earlier");
    page.until("main", sheet -> sheet.findElement(By.cssSelector("p button")).isEnabled());
    new Select(page.find("#sheet select")).selectByValue("daemon");
    page.fill("#sheet input[type=search]", "on Ambrose Valley");
    page.until("main", sheet -> sheet.getText().contains("1 line\n"));
    page.until("main", sheet -> sheet.getText().contains("on Ambrose Valley Line"));
    assertEquals("", page.seriousFindings());
  }

  @Test
  void ownerTriesNewFilesAndIsToldWhatWouldBe() {
    page.open("owner.html");
    page.enter("Enter as the owner", "owner", "Olga", daemon.pin(Role.OWNER));
    page.open("owner.html#reload");
    page.until("main", sheet -> sheet.getText().contains("Apply when free"));
    page.press("main input[type=checkbox]");
    page.press("main button:not(.chief)");
    page.until("main", sheet -> sheet.getText().contains("the new files can take over"));
    page.until("main", sheet -> sheet.getText().contains("nothing has changed"));
  }

  @ParameterizedTest
  @CsvSource({
    "crew.html?place=tilling, false",
    "crew.html?place=tilling, true",
    "wall.html, false",
    "wall.html, true",
    "owner.html, false",
    "owner.html#reload, false",
    "owner.html#graph, true"
  })
  void hasNoSeriousBarrier(String name, boolean night) throws IOException {
    page.night(night);
    if (name.startsWith("owner")) {
      page.open("owner.html");
      page.enter("Enter as the owner", "owner", "Olga", daemon.pin(Role.OWNER));
      page.until("body", body -> body.getText().contains("owner Olga"));
    }
    page.open(name);
    page.until("body", body -> body.getText().length() > 100);
    assertEquals("", page.seriousFindings());
  }
}
