package tappet.proof.track;

import java.util.regex.Pattern;

/** Which variables of an interlocking tell the field what to do. Only names join the two. */
public final class Orders {

  private static final Pattern NAMES =
      Pattern.compile(
          "(signal|switch|lock|lamp|button|opening|grade crossing) .*: "
              + "(shows [\\w-]+|dark|sent \\w+|is told to \\w+|lit|warns|\\w+ counts)");

  private Orders() {}

  /** Whether the variable of a name is one: an aspect, a movement, a lamp, a press that counts. */
  public static boolean isOne(String variable) {
    return NAMES.matcher(variable).matches();
  }
}
