package tappet.source;

/** Words as a YAML file has them. */
public final class YamlText {

  private YamlText() {}

  /**
   * Words in single quotes, in which nothing but the quote itself means anything (YAML 1.2.2,
   * 7.3.2).
   *
   * @param words one line
   */
  public static String quoted(String words) {
    return "'" + words.replace("'", "''") + "'";
  }
}
