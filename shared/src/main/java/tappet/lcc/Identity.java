package tappet.lcc;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * What a node tells of itself to people (S-9.7.4.3 §5.1): four texts of its maker and two of its
 * user, in UTF-8 without zero bytes.
 *
 * @param manufacturer at most 40 bytes
 * @param model at most 40 bytes
 * @param hardwareVersion at most 20 bytes
 * @param softwareVersion at most 20 bytes
 * @param userName at most 62 bytes
 * @param userDescription at most 63 bytes
 */
public record Identity(
    String manufacturer,
    String model,
    String hardwareVersion,
    String softwareVersion,
    String userName,
    String userDescription) {

  static final int MAKER_TEXTS = 4;
  static final int USER_TEXTS = 2;

  /** The most bytes of each text, without its closing zero, in order. */
  private static final List<Integer> LENGTHS_MAX = List.of(40, 40, 20, 20, 62, 63);

  public Identity {
    List<String> texts =
        List.of(manufacturer, model, hardwareVersion, softwareVersion, userName, userDescription);
    for (int index = 0; index < texts.size(); index++) {
      requireText(texts.get(index), LENGTHS_MAX.get(index));
    }
  }

  private static void requireText(String text, int lengthMax) {
    int length = text.getBytes(UTF_8).length;
    if (length > lengthMax || text.indexOf('\0') >= 0) {
      throw new IllegalArgumentException(
          "\"%s\" has %d bytes, expected at most %d and no zero"
              .formatted(text, length, lengthMax));
    }
  }

  /** The same maker, other texts of the user. */
  public Identity withUser(String name, String description) {
    return new Identity(manufacturer, model, hardwareVersion, softwareVersion, name, description);
  }

  /** The content of a Simple Node Information Reply, at most 253 bytes. */
  Bytes encode() {
    Bytes maker = Bytes.of(MAKER_TEXTS).and(text(manufacturer)).and(text(model));
    Bytes versions = text(hardwareVersion).and(text(softwareVersion));
    Bytes user = Bytes.of(USER_TEXTS).and(text(userName)).and(text(userDescription));
    return maker.and(versions).and(user);
  }

  private static Bytes text(String text) {
    return Bytes.copyOf((text + '\0').getBytes(UTF_8));
  }

  /**
   * Reads the content of a reply; empty while it is not whole. A version tells how many texts its
   * part has, except that 1 stands for the usual number; further texts are skipped (S-9.7.4.3
   * §5.2). Texts longer than allowed are cut.
   */
  static Optional<Identity> decode(Bytes content) {
    List<String> texts = new ArrayList<>();
    int place = readPart(content, 0, MAKER_TEXTS, texts);
    place = place < 0 ? place : readPart(content, place, USER_TEXTS, texts);
    return place < 0 ? Optional.empty() : Optional.of(ofTexts(texts));
  }

  /** Where the part ends; -1 if it does not. */
  private static int readPart(Bytes content, int from, int known, List<String> texts) {
    if (from >= content.length()) {
      return -1;
    }
    int count = Math.max(known, content.at(from));
    int place = from + 1;
    for (int index = 0; index < count; index++) {
      int end = zeroFrom(content, place);
      if (end < 0) {
        return -1;
      }
      if (index < known) {
        texts.add(readText(content, place, end, LENGTHS_MAX.get(texts.size())));
      }
      place = end + 1;
    }
    return place;
  }

  private static int zeroFrom(Bytes content, int from) {
    for (int place = from; place < content.length(); place++) {
      if (content.at(place) == 0) {
        return place;
      }
    }
    return -1;
  }

  private static String readText(Bytes content, int from, int end, int lengthMax) {
    return Texts.utf8(content.slice(from, end - from), lengthMax);
  }

  private static Identity ofTexts(List<String> texts) {
    return new Identity(
        texts.get(0), texts.get(1), texts.get(2), texts.get(3), texts.get(4), texts.get(5));
  }
}
