package tappet.lcc;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Long addressed messages to alias 458. */
class AddressedReceiverTest {

  private final AddressedReceiver receiver = new AddressedReceiver();
  private final List<String> whole = new ArrayList<>();
  private long nowNs;

  private AddressedReceiverTest send(String... texts) {
    for (String text : texts) {
      CanFrame frame = Vectors.frame(text);
      receiver
          .receive(frame, nowNs)
          .ifPresent(content -> whole.add("%03X %s".formatted(frame.sourceAlias(), content)));
    }
    return this;
  }

  private void expect(String... messages) {
    assertEquals(List.of(messages), whole);
  }

  // S-9.7.3 §7.3.1.3: a last frame may be empty
  @Test
  void messageIsWholeWithItsLastFrame() {
    send(":X19A0867EN1458010203040506;", ":X19A0867EN3458111213141516;", ":X19A0867EN2458;");
    send(":X19A0867EN045821;");
    expect("67E 010203040506111213141516", "67E 21");
  }

  // S-9.7.3 §7.3.7: from two senders, and of two kinds from one
  @Test
  void mixedMessagesAreKeptApart() {
    send(":X19A0867EN1458010203040506;", ":X19A08123N1458A1A2A3A4A5A6;");
    send(":X1966867EN1458B1B2B3B4B5B6;", ":X19A0867EN245807;", ":X1966867EN2458B7;");
    send(":X19A08123N2458A7;");
    expect("67E 01020304050607", "67E B1B2B3B4B5B6B7", "123 A1A2A3A4A5A6A7");
  }

  // S-9.7.3 §3.5.5: no crash; the next correct message is understood
  @ParameterizedTest
  @CsvSource({"2, 0", "3, 0", "1 1, 0", "3 2, 0", "1 3 1, 0", "2 2, 0"})
  void brokenMessageDoesNotSpoilTheNext(String framings, String then) {
    for (String framing : framings.split(" ", -1)) {
      send(":X19A0867EN" + framing + "458010203040506;");
    }
    send(":X19A0867EN" + then + "458AA;");
    expect("67E AA");
  }

  // lcc.md §4.3: dropped when the sender is gone, at 3 s, beyond the bound, and by newer ones
  @Test
  void whatIsNotFinishedIsDropped() {
    String first = ":X19A0867EN1458010203040506;";
    String middle = ":X19A0867EN3458010203040506;";
    String last = ":X19A0867EN2458;";
    send(first);
    receiver.forget(0x67E);
    send(last, first);
    nowNs = 3_000_000_000L;
    send(middle, last, first);
    for (int count = 0; count < 100; count++) {
      send(middle);
    }
    send(last, first);
    for (int alias = 1; alias <= AddressedReceiver.PARTIALS_MAX; alias++) {
      send(":X19A08%03XN1458010203040506;".formatted(alias));
    }
    send(last).expect();
  }
}
