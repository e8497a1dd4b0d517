package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The launcher with a Java that only ends as it is told to, or writes an archive before. */
class LaunchTest {

  private static final String WITHOUT_ARCHIVE = "";
  private static final String WITH_ARCHIVE =
      """
      for option; do
        case $option in
          -XX:ArchiveClassesAtExit=*) echo new >"${option#*=}" ;;
        esac
      done
      """;

  @TempDir Path folder;

  /** Jars and their archive as an installed Tappet has them. */
  @BeforeEach
  void install() throws IOException {
    Path jar = Files.createFile(folder.resolve("tappet.jar"));
    Files.setLastModifiedTime(jar, FileTime.fromMillis(0));
    Files.createFile(folder.resolve("tappet.jsa"));
    Files.createFile(folder.resolve("jvm.options"));
    Path library = Files.createDirectory(folder.resolve("lib"));
    Files.createFile(library.resolve("sqlite-jdbc-1.jar"));
  }

  /** The exit status of a proof by a Java that does this work, and ends so. */
  private int prove(String work, int status) throws Exception {
    Path java = Files.createDirectory(folder.resolve("bin")).resolve("java");
    Files.writeString(java, "#!/bin/bash\n%s\nexit %d\n".formatted(work, status));
    assertTrue(java.toFile().setExecutable(true));
    Process launched =
        new ProcessBuilder(
                "bash",
                "-euo",
                "pipefail",
                "-c",
                "PATH=$0/bin:$PATH home=$0 jar=$0/tappet.jar jvm_options=$0/jvm.options"
                    + " libraries=($0/lib); source bin/launch; launch prove layout.yaml rules.yaml",
                folder.toString())
            .redirectErrorStream(true)
            .start();
    String said = new String(launched.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertEquals("", said);
    return launched.waitFor();
  }

  @ParameterizedTest
  @ValueSource(ints = {0, 1, 3, 4})
  void statusOfAProofIsItsOwnWhereJavaWritesNoArchive(int status) throws Exception {
    assertEquals(status, prove(WITHOUT_ARCHIVE, status));
  }

  @ParameterizedTest
  @ValueSource(ints = {0, 3})
  void whatAProofHasLoadedIsKept(int status) throws Exception {
    assertEquals(status, prove(WITH_ARCHIVE, status));
    assertEquals("new\n", Files.readString(folder.resolve("tappet-proof.jsa")));
  }

  @Test
  void whatAProofHasLoadedThatCameToNoEndIsNotKept() throws Exception {
    assertEquals(4, prove(WITH_ARCHIVE, 4));
    try (Stream<Path> files = Files.list(folder)) {
      assertEquals(0, files.filter(file -> file.toString().contains("tappet-proof")).count());
    }
  }
}
