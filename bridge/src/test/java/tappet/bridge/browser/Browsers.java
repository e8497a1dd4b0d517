package tappet.bridge.browser;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.Objects;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.extension.AfterEachCallback;
import org.junit.jupiter.api.extension.RegisterExtension;
import org.junit.jupiter.api.io.TempDir;

/**
 * Two browsers for all tests of a class; after a test that failed two others, since a browser that
 * hangs would let all that follow wait for it.
 */
abstract class Browsers {

  /** As many are not the browsers' fault, or no others would be better. */
  private static final int FAILURES_MAX = 3;

  @TempDir static Path profiles;
  static Chromium page;
  static Chromium other;
  private static int failures;

  @RegisterExtension
  static final AfterEachCallback RENEWAL =
      test -> {
        if (test.getExecutionException().isPresent()) {
          failures++;
          endBrowsers();
        }
      };

  @BeforeAll
  static void count() {
    failures = 0;
  }

  @BeforeEach
  void startBrowsers() {
    assertTrue(failures < FAILURES_MAX, "not tried: so many have failed with these browsers");
    if (page == null) {
      page = new Chromium(profiles.resolve("page" + failures));
      other = new Chromium(profiles.resolve("other" + failures));
    }
  }

  @AfterAll
  static void endBrowsers() {
    Stream.of(page, other).filter(Objects::nonNull).forEach(Chromium::close);
    page = null;
    other = null;
  }
}
