package tappet.bridge.browser;

import java.nio.file.Path;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.io.TempDir;

/** Two browsers for all tests of a class. */
abstract class Browsers {

  @TempDir static Path profile;
  @TempDir static Path otherProfile;
  static Chromium page;
  static Chromium other;

  @BeforeAll
  static void startBrowsers() {
    page = new Chromium(profile);
    other = new Chromium(otherProfile);
  }

  @AfterAll
  static void endBrowsers() {
    page.close();
    other.close();
  }
}
