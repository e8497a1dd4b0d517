package tappet.source;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class Sha256Test {

  // The two messages are those of FIPS 180-2, B.1 and B.2 (from memory); the digits, and those of
  // nothing, are what sha256sum of GNU coreutils tells of them.
  @ParameterizedTest
  @CsvSource({
    "abc, ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
    "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq,"
        + " 248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
    "'', e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
  })
  void textComesToThePublishedDigits(String text, String digits) {
    assertEquals(digits, Sha256.digits(text));
  }
}
