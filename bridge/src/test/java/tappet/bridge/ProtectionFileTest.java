package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDateTime;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.box.ProtectionText;
import tappet.interlocking.KeptProtections;
import tappet.interlocking.Moment;
import tappet.interlocking.Protection;
import tappet.sentence.Protected;

/** Who is protected outlives the daemon in a real file; what cannot be read is never "nobody". */
class ProtectionFileTest {

  private static final KeptProtections SOME =
      new KeptProtections(
          List.of(
              new Protection(
                  Protected.PERMIT,
                  List.of("mill-branch", "yard-lead"),
                  "Way Freight = \u00fc#\\",
                  new Moment(
                      Optional.of(LocalDateTime.of(2026, 11, 25, 14, 3, 7)), OptionalInt.of(390)),
                  Optional.of(" 'rail' work: \u8d70")),
              new Protection(
                  Protected.BLOCKED_SIGNAL,
                  List.of("t2e"),
                  "Hobbs",
                  Moment.UNKNOWN,
                  Optional.empty())),
          List.of("the file was gone", "x"));

  @TempDir Path folder;
  private final CountDownLatch woken = new CountDownLatch(1);
  private Path path;
  private ProtectionFile file;

  @BeforeEach
  void open() {
    path = folder.resolve("tappet.state.protections");
    file = new ProtectionFile(path, woken::countDown);
  }

  @AfterEach
  void close() {
    file.close();
  }

  @Test
  void whatIsKeptIsReadAgainAndTheBoxIsWoken() throws Exception {
    assertEquals(Optional.empty(), file.keep(KeptProtections.NONE).get(60, TimeUnit.SECONDS));
    assertEquals(KeptProtections.NONE, file.read(true));
    assertEquals(Optional.empty(), file.keep(SOME).get(60, TimeUnit.SECONDS));
    assertEquals(SOME, file.read(true));
    assertTrue(woken.await(60, TimeUnit.SECONDS));
    try (var left = Files.list(folder)) {
      assertEquals(List.of(path), left.toList());
    }
  }

  @Test
  void nothingIsInDoubtWhereTheDaemonHasNeverRun() {
    assertEquals(KeptProtections.NONE, file.read(false));
  }

  @Test
  void fileThatIsGoneIsInDoubt() {
    assertEquals(
        new KeptProtections(List.of(), List.of("the file tappet.state.protections is gone")),
        file.read(true));
  }

  @Test
  void damagedFileIsInDoubtAndPutAside() throws IOException {
    String text = ProtectionText.of(SOME).replace("Hobbs", "Hobs");
    Files.writeString(path, text);
    assertEquals(
        List.of(
            "the file tappet.state.protections cannot be read: its check sum is wrong: it is"
                + " damaged or was changed; it is kept as tappet.state.protections.unread"),
        file.read(true).doubts());
    assertEquals(text, Files.readString(folder.resolve("tappet.state.protections.unread")));
  }

  @Test
  void fileOfBytesThatAreNoTextIsInDoubt() throws IOException {
    Files.write(path, new byte[] {(byte) 0xC3, 0x28, 0, (byte) 0xFF});
    assertEquals(1, file.read(true).doubts().size());
  }

  // A power cut, a worn card: whatever is missing or changed, it does not pass for the whole.
  @Test
  void noDamageOfOneCharacterAndNoBrokenOffTextPassesForTheWhole() {
    String text = ProtectionText.of(SOME);
    int facts = text.indexOf('\n', text.indexOf('\n') + 1) + 1;
    for (int at = facts; at < text.length() - 1; at++) {
      String brokenOff = text.substring(0, at);
      assertThrows(IllegalArgumentException.class, () -> ProtectionText.read(brokenOff), brokenOff);
      char other = text.charAt(at) == 'q' ? 'z' : 'q';
      String changed = text.substring(0, at) + other + text.substring(at + 1);
      assertThrows(IllegalArgumentException.class, () -> ProtectionText.read(changed), changed);
    }
    assertEquals(SOME, ProtectionText.read(text));
  }

  @Test
  void emptyFileIsInDoubt() throws IOException {
    Files.createFile(path);
    assertEquals(1, file.read(true).doubts().size());
  }

  @Test
  void fileThatCannotBeWrittenIsTold() throws Exception {
    Files.createDirectories(folder.resolve("tappet.state.protections.new"));
    String why = file.keep(SOME).get(60, TimeUnit.SECONDS).orElseThrow();
    assertTrue(why.startsWith("tappet.state.protections cannot be written: "), why);
  }

  @Test
  void fileIsNotWrittenOnceTheDaemonEnds() {
    file.close();
    assertEquals(Optional.of("the daemon is ending"), file.keep(SOME).join());
  }
}
