package tappet.layout;

import java.util.List;

/** What people call the heads of a signal, which are told apart only where there are several. */
final class HeadNames {

  private static final List<List<String>> BY_COUNT =
      List.of(List.of(), List.of(""), List.of("top", "bottom"), List.of("top", "middle", "bottom"));

  private HeadNames() {}

  /** {@code 1 head}, {@code 2 heads}. */
  static String count(int heads) {
    return heads + (heads == 1 ? " head" : " heads");
  }

  /** {@code "top "}, or nothing where the signal has one head. */
  static String of(int head, int heads) {
    String word = BY_COUNT.get(heads).get(head);
    return word.isEmpty() ? "" : word + " ";
  }

  /** {@code top-green}, or {@code green} where the signal has one head. */
  static String lamp(int head, int heads, Colour colour) {
    return of(head, heads).replace(' ', '-') + colour.word();
  }

  /** {@code top}, or {@code lamp} where the signal has one head. */
  static String lampOfHead(int head, int heads) {
    return heads == 1 ? "lamp" : of(head, heads).strip();
  }
}
