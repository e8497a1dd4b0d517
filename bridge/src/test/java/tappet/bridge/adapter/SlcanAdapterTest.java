package tappet.bridge.adapter;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.hub.Access;
import tappet.bridge.hub.HubUnderTest;
import tappet.lcc.CanFrame;

/** SLCAN over a pseudo-terminal with a scripted adapter at its far end. All from memory. */
class SlcanAdapterTest {

  private static final Duration PATIENCE = Duration.ofSeconds(30);
  private static final BackOff SOON = new BackOff(Duration.ofMillis(5), Duration.ofMillis(50));
  private static final CanFrame FRAME = CanFrame.of(0x19A284AA, 3, 0x03CC00);

  @TempDir private Path folder;
  private String name;

  private final HubUnderTest test = new HubUnderTest();
  private PseudoTerminal cable;
  private SerialAdapter adapter;
  private Scripted far;

  @BeforeEach
  void open() throws IOException {
    name = "serial adapter " + folder.resolve("near");
    plugIn();
  }

  @AfterEach
  void close() throws Exception {
    if (adapter != null) {
      adapter.close();
      await().atMost(PATIENCE).until(() -> test.hub().connections().isEmpty());
    }
    cable.close();
    far.join();
    test.close();
  }

  @Test
  void adapterIsSetTo125KilobitsAndOpenedAndClosedAtTheEnd() throws Exception {
    open(command -> "\r");
    await().atMost(PATIENCE).until(() -> far.heard().contains("O\r"));
    adapter.close();
    adapter = null;

    await().atMost(PATIENCE).until(() -> far.heard().endsWith("C\r") && far.heard().length() > 9);
    assertTrue(far.heard().startsWith("\r\rC\rS4\rO\r"), far.heard());
  }

  @Test
  void framesFlowBothWays() {
    open(command -> command.startsWith("T") ? "Z\r" : "\r");
    await().atMost(PATIENCE).until(() -> far.heard().contains("O\r"));

    test.hub().send(FRAME);
    await().atMost(PATIENCE).until(() -> far.heard().contains("T19A284AA303CC00\r"));
    far.say("T171A24AA0\rt1230\rT195B457380102030405060708\rr1230\rT17");

    await().atMost(PATIENCE).until(() -> adapter.traffic().ignored() == 2);
    await().atMost(PATIENCE).until(() -> test.frames().size() == 2);
    assertEquals(
        List.of(CanFrame.empty(0x171A24AA), CanFrame.of(0x195B4573, 8, 0x0102030405060708L)),
        test.frames());
    assertEquals(1, adapter.traffic().framesOut());
    assertEquals(0, adapter.traffic().malformed());
  }

  @Test
  void busErrorsAreToldOnceInAnOwnersWords() {
    open(command -> command.equals("F\r") ? "F80\r" : "\r");

    await().atMost(PATIENCE).until(() -> test.news().size() == 2);
    assertEquals(
        name
            + " reports: bus error: is the bus powered, ended by two terminators, and is somebody"
            + " else on it?",
        test.news().get(1));
    await().atMost(PATIENCE).until(() -> far.count("F\r") >= 3);
    assertEquals(2, test.news().size(), test.news().toString());
  }

  @Test
  void refusedFramesAreToldOnceAndCounted() {
    open(command -> command.startsWith("T") ? "\007" : command.equals("F\r") ? "F00\r" : "\r");
    await().atMost(PATIENCE).until(() -> far.count("F\r") >= 1);

    test.hub().sendAll(List.of(FRAME, FRAME, FRAME));

    await().atMost(PATIENCE).until(() -> adapter.traffic().refused() == 3);
    test.settle();
    assertEquals(
        List.of(name + " is up", name + " refuses frames; they are counted from now on"),
        test.news());
  }

  @Test
  void adapterThatDoesNotKnowTheStatusQuestionIsNotAskedAgain() {
    open(command -> command.equals("F\r") ? "\007" : "\r");

    await().atMost(PATIENCE).until(() -> far.count("F\r") == 1);
    await().during(Duration.ofMillis(1_300)).atMost(PATIENCE).until(() -> far.count("F\r") == 1);
    assertEquals(0, adapter.traffic().refused());
  }

  @Test
  void deviceThatAnswersNothingIsToldSo() {
    open(command -> "");

    await().atMost(PATIENCE).until(() -> test.news().size() == 2);
    assertEquals(
        name + " answers nothing: is it an SLCAN adapter, and is its speed right?",
        test.news().get(1));
  }

  @Test
  void silenceIsOverAsSoonAsTheDeviceAnswers() {
    open(command -> "");
    await().atMost(PATIENCE).until(() -> test.news().size() == 2);

    far.say("\r");

    await().atMost(PATIENCE).until(() -> test.news().size() == 3);
    assertEquals("over: " + name + " answers nothing", test.news().get(2));
  }

  @Test
  void adapterIsSetUpAgainWhenItComesBack() throws Exception {
    open(command -> "\r");
    await().atMost(PATIENCE).until(() -> far.heard().contains("O\r"));

    cable.close();
    far.join();
    await().atMost(PATIENCE).until(() -> test.news().size() == 2);
    plugIn();
    far = new Scripted(folder.resolve("far"), command -> "\r");
    far.start();

    await().atMost(PATIENCE).until(() -> far.heard().contains("C\rS4\rO\r"));
  }

  @Test
  void adapterThatIsOverheardIsOpenedToListenAndSendsNothing() {
    open(command -> "\r", Access.OVERHEARD);
    await().atMost(PATIENCE).until(() -> far.heard().contains("L\r"));

    test.hub().send(FRAME);
    far.say("T171A24AA0\r");

    await().atMost(PATIENCE).until(() -> test.frames().size() == 1);
    await().atMost(PATIENCE).until(() -> far.count("F\r") == 1);
    assertEquals(List.of(CanFrame.empty(0x171A24AA)), test.frames());
    assertEquals("\r\rC\rS4\rL\rF\r", far.heard());
    assertEquals(0, adapter.traffic().framesOut());
  }

  private void plugIn() throws IOException {
    cable = PseudoTerminal.plug(folder.resolve("near"), folder.resolve("far"));
  }

  private void open(UnaryOperator<String> script) {
    open(script, Access.FULL);
  }

  private void open(UnaryOperator<String> script, Access access) {
    far = new Scripted(folder.resolve("far"), script);
    far.start();
    String path = folder.resolve("near").toString();
    adapter = SerialAdapter.open(test.hub(), path, 115_200, SerialForm.SLCAN, SOON, access);
  }

  /** Answers each command by its script, until the cable is pulled. */
  private static final class Scripted extends Thread {
    private final UnaryOperator<String> script;
    private final RandomAccessFile terminal;
    private volatile String heard = "";

    Scripted(Path path, UnaryOperator<String> script) {
      this.script = script;
      try {
        terminal = new RandomAccessFile(path.toFile(), "rw");
      } catch (IOException e) {
        throw new AssertionError(e);
      }
    }

    @Override
    public void run() {
      StringBuilder all = new StringBuilder();
      StringBuilder command = new StringBuilder();
      try {
        for (int symbol = terminal.read(); symbol >= 0; symbol = terminal.read()) {
          heard = all.append((char) symbol).toString();
          command.append((char) symbol);
          if (symbol == '\r') {
            say(script.apply(command.toString()));
            command.setLength(0);
          }
        }
      } catch (IOException e) {
        // The cable was pulled.
      }
    }

    void say(String text) {
      try {
        terminal.write(text.getBytes(StandardCharsets.ISO_8859_1));
      } catch (IOException e) {
        throw new AssertionError(e);
      }
    }

    String heard() {
      return heard;
    }

    long count(String command) {
      return ("\r" + heard()).split("\r" + command, -1).length - 1L;
    }
  }
}
