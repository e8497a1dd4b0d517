package tappet.bridge.browser;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import javax.imageio.ImageIO;
import org.openqa.selenium.By;
import org.openqa.selenium.Dimension;
import org.openqa.selenium.Keys;
import org.openqa.selenium.OutputType;
import org.openqa.selenium.StaleElementReferenceException;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.interactions.Actions;
import org.openqa.selenium.remote.http.ClientConfig;
import org.openqa.selenium.support.ui.WebDriverWait;

/** One browser with a fresh profile, and what a person does with it. */
final class Chromium implements AutoCloseable {

  /** Generous: a busy machine draws late, and nothing here is about how fast it is. */
  private static final Duration PATIENCE = Duration.ofSeconds(90);

  private static final Path BROWSER = Path.of("/usr/bin/chromium");
  private static final Path DRIVER = Path.of("/usr/bin/chromedriver");

  private final String profile;
  private final ChromeDriver driver;
  private String host = "";

  /**
   * @param profile an empty folder, or one that is not there yet
   */
  Chromium(Path profile) {
    this.profile = "--user-data-dir=" + profile.toAbsolutePath();
    ChromeOptions options = new ChromeOptions();
    options.setBinary(BROWSER.toFile());
    options.addArguments(
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-dev-shm-usage",
        "--disable-background-networking",
        "--no-first-run",
        this.profile);
    options.setPageLoadTimeout(PATIENCE);
    System.setProperty(ChromeDriverService.CHROME_DRIVER_EXE_PROPERTY, DRIVER.toString());
    this.driver =
        new ChromeDriver(
            ChromeDriverService.createDefaultService(),
            options,
            ClientConfig.defaultConfig().readTimeout(PATIENCE));
    size(1440, 900);
  }

  /** A browser that has kept nothing, for the pages of a daemon at this address. */
  Chromium at(String pages) {
    driver.executeCdpCommand("Emulation.clearDeviceMetricsOverride", Map.of());
    driver.executeCdpCommand("Network.clearBrowserCookies", Map.of());
    night(false);
    seenWith("none");
    size(1440, 900);
    host = pages;
    return this;
  }

  void size(int width, int height) {
    driver.manage().window().setSize(new Dimension(width, height));
  }

  /** As a phone reports it: a narrow viewport, whatever window the browser can make. */
  void phone(int width, int height) {
    driver.executeCdpCommand(
        "Emulation.setDeviceMetricsOverride",
        Map.of("width", width, "height", height, "deviceScaleFactor", 2, "mobile", true));
  }

  void night(boolean dark) {
    driver.executeCdpCommand(
        "Emulation.setEmulatedMedia",
        Map.of(
            "features",
            List.of(Map.of("name", "prefers-color-scheme", "value", dark ? "dark" : "light"))));
  }

  void open(String page) {
    driver.get("http://" + host + "/" + page);
  }

  ChromeDriver driver() {
    return driver;
  }

  WebElement find(String css) {
    return until(css, any -> true);
  }

  /** Waits for an element that is so; one that is drawn anew meanwhile is looked for again. */
  WebElement until(String css, Predicate<WebElement> isSo) {
    return new WebDriverWait(driver, PATIENCE)
        .ignoring(StaleElementReferenceException.class)
        .withMessage(() -> css + " on " + driver.getCurrentUrl() + "\n" + text())
        .until(
            browser ->
                browser.findElements(By.cssSelector(css)).stream()
                    .filter(WebElement::isDisplayed)
                    .filter(isSo)
                    .findFirst()
                    .orElse(null));
  }

  String text() {
    return driver.findElement(By.tagName("body")).getText();
  }

  /** Waits until the name by which a screen reader knows a device says this. */
  void untilSaid(String kind, String id, String words) {
    until(device(kind, id), element -> element.getAttribute("aria-label").contains(words));
  }

  /** Points at a device of the chart. */
  void point(String kind, String id) {
    press(device(kind, id));
  }

  /** Points at a device again and again, until that has done what it is for. */
  void pointUntil(String kind, String id, BooleanSupplier done) {
    new WebDriverWait(driver, PATIENCE)
        .ignoring(StaleElementReferenceException.class)
        .withMessage(() -> kind + " " + id + "\n" + text())
        .until(
            browser -> {
              point(kind, id);
              return done.getAsBoolean();
            });
  }

  static String device(String kind, String id) {
    return "[data-kind='%s'][data-id='%s']".formatted(kind, id);
  }

  /** Points at the middle of an element, as a finger does. */
  void press(String css) {
    new WebDriverWait(driver, PATIENCE)
        .ignoring(StaleElementReferenceException.class)
        .until(
            browser -> {
              WebElement element = browser.findElement(By.cssSelector(css));
              driver.executeScript(
                  "arguments[0].scrollIntoView({block: 'center', inline: 'center'})", element);
              new Actions(driver).moveToElement(element).click().perform();
              return true;
            });
  }

  /** Presses a button by the words on it, or by those that a screen reader says. */
  void button(String words) {
    String xpath = "//button[normalize-space()='%s' or @aria-label='%s']".formatted(words, words);
    new WebDriverWait(driver, PATIENCE)
        .ignoring(StaleElementReferenceException.class)
        .withMessage(() -> "button " + words + "\n" + text())
        .until(
            browser ->
                browser.findElements(By.xpath(xpath)).stream()
                    .filter(WebElement::isDisplayed)
                    .findFirst()
                    .map(
                        found -> {
                          driver.executeScript("arguments[0].click()", found);
                          return true;
                        })
                    .orElse(false));
  }

  /** Presses a button again and again, until it has done what it is for. */
  void buttonUntil(String words, BooleanSupplier done) {
    new WebDriverWait(driver, PATIENCE)
        .ignoring(StaleElementReferenceException.class)
        .withMessage(() -> "button " + words + "\n" + text())
        .until(
            browser -> {
              if (!done.getAsBoolean()) {
                button(words);
              }
              return done.getAsBoolean();
            });
  }

  void keepDownloads(Path folder) {
    driver.executeCdpCommand(
        "Browser.setDownloadBehavior",
        Map.of("behavior", "allow", "downloadPath", folder.toAbsolutePath().toString()));
  }

  /** Waits for a file that has been downloaded whole, and tells what is in it. */
  String downloaded(Path folder, String ending) {
    return new WebDriverWait(driver, PATIENCE)
        .withMessage("no file *" + ending)
        .until(browser -> textOf(folder, ending));
  }

  /** What is in the file; null where there is none yet, or its other half is still to come. */
  private static String textOf(Path folder, String ending) {
    try (Stream<Path> files = Files.list(folder)) {
      Optional<Path> whole = files.filter(file -> file.toString().endsWith(ending)).findFirst();
      return whole.isPresent() ? Files.readString(whole.get()) : null;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** As somebody sees it who lacks some colours; {@code none} is everybody else. */
  void seenWith(String deficiency) {
    driver.executeCdpCommand("Emulation.setEmulatedVisionDeficiency", Map.of("type", deficiency));
  }

  /** What the page looks like now. */
  BufferedImage picture() throws IOException {
    return ImageIO.read(new ByteArrayInputStream(driver.getScreenshotAs(OutputType.BYTES)));
  }

  /** Types at wherever the focus is. */
  void type(CharSequence... keys) {
    new Actions(driver).sendKeys(keys).perform();
  }

  void fill(String css, String text) {
    WebElement field = find(css);
    field.clear();
    field.sendKeys(text);
  }

  /** Takes a role, by the page's own dialog. */
  void enter(String opener, String role, String name, String pin) {
    button(opener);
    fill("dialog[open] [name=name]", name);
    driver
        .findElements(By.cssSelector("dialog[open] select[name=role]"))
        .forEach(roles -> roles.sendKeys(role));
    fill("dialog[open] [name=pin]", pin);
    type(Keys.ENTER);
  }

  /** What axe-core finds that is serious or worse (WCAG 2.2 A and AA and its best practices). */
  String seriousFindings() throws IOException {
    try (InputStream axe = Chromium.class.getResourceAsStream("/axe.min.js")) {
      driver.executeScript(new String(axe.readAllBytes(), StandardCharsets.UTF_8));
    }
    Object found =
        driver.executeAsyncScript(
            """
            const done = arguments[arguments.length - 1];
            axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']})
              .then(({violations}) => done(violations
                .filter(({impact}) => impact === 'serious' || impact === 'critical')
                .map(({id, help, nodes}) => `${id}: ${help}: ` + nodes.map(({html}) => html).join(' | '))))
              .catch(error => done(['axe failed: ' + error]));
            """);
    return ((List<?>) found).stream().map(String::valueOf).collect(Collectors.joining("\n"));
  }

  /** How much wider than the window the page is, in pixels. */
  long overflow() {
    return (Long)
        driver.executeScript(
            "return Math.max(0, document.documentElement.scrollWidth - window.innerWidth)");
  }

  /** Even one that hangs ends, which its driver would wait for. */
  @Override
  public void close() {
    ProcessHandle.current()
        .descendants()
        .filter(process -> process.info().commandLine().orElse("").contains(profile))
        .flatMap(process -> Stream.concat(process.descendants(), Stream.of(process)))
        .forEach(ProcessHandle::destroyForcibly);
    driver.quit();
  }
}
