package tappet.bridge.conformance;

import java.util.List;
import java.util.stream.Stream;

/** The events of the layout in {@code conformance/layout.yaml}, by what they say. */
public final class BirchHollow {

  public static final String APPROACH_OCCUPIED = "0A5700000F001101";
  public static final String APPROACH_CLEAR = "0A5700000F001100";
  public static final String SWITCH_OCCUPIED = "0A5700000F001201";
  public static final String SWITCH_CLEAR = "0A5700000F001200";
  public static final String MAIN_OCCUPIED = "0A5700000F001301";
  public static final String MAIN_CLEAR = "0A5700000F001300";
  public static final String SIDING_OCCUPIED = "0A5700000F001401";
  public static final String SIDING_CLEAR = "0A5700000F001400";
  public static final String W1_IS_NORMAL = "0A5700000F003100";
  public static final String W1_IS_REVERSE = "0A5700000F003101";

  public static final String W1_TO_NORMAL = "0A5700000F002100";
  public static final String W1_TO_REVERSE = "0A5700000F002101";
  public static final String W2E_STOP = "0A5700000F004100";
  public static final String W2E_APPROACH = "0A5700000F004101";
  public static final String W2E_DIVERGING = "0A5700000F004102";
  public static final String W4W_STOP = "0A5700000F004200";
  public static final String W4W_APPROACH = "0A5700000F004201";
  public static final String W6W_STOP = "0A5700000F004300";
  public static final String W6W_DIVERGING = "0A5700000F004302";

  // S-9.7.0.4 §5.2
  public static final String EMERGENCY_OFF = "010000000000FFFF";
  public static final String EMERGENCY_OFF_CLEARED = "010000000000FFFE";
  public static final String EMERGENCY_STOP = "010000000000FFFD";
  public static final String EMERGENCY_STOP_CLEARED = "010000000000FFFC";

  /** What the daemon tells its field. */
  public static final List<String> PRODUCED =
      List.of(
          W1_TO_NORMAL,
          W1_TO_REVERSE,
          W2E_STOP,
          W2E_APPROACH,
          W2E_DIVERGING,
          W4W_STOP,
          W4W_APPROACH,
          W6W_STOP,
          W6W_DIVERGING);

  /** What the daemon hears from its field, without the emergencies, which need no advertising. */
  public static final List<String> CONSUMED =
      List.of(
          APPROACH_OCCUPIED,
          APPROACH_CLEAR,
          SWITCH_OCCUPIED,
          SWITCH_CLEAR,
          MAIN_OCCUPIED,
          MAIN_CLEAR,
          SIDING_OCCUPIED,
          SIDING_CLEAR,
          W1_IS_NORMAL,
          W1_IS_REVERSE);

  /** What the daemon hears from any node, whatever its layout (S-9.7.0.4 §5.2, §5.3). */
  static final List<String> CONSUMED_ANYWHERE =
      List.of(
          EMERGENCY_OFF,
          EMERGENCY_OFF_CLEARED,
          EMERGENCY_STOP,
          EMERGENCY_STOP_CLEARED,
          "010000000000FFF8",
          "010000000000FFF1",
          "010000000000FFF0",
          "010000000000FE00",
          "010000000000FD01",
          "010000000000FD02",
          "010000000000FD03",
          "010000000000FD04",
          "0101000000000201");

  private BirchHollow() {}

  /** What boards report when nothing is on the layout. */
  static String[] quietField() {
    return Stream.of(APPROACH_CLEAR, SWITCH_CLEAR, MAIN_CLEAR, SIDING_CLEAR, W1_IS_NORMAL)
        .map(event -> "195B4ttt " + event)
        .toArray(String[]::new);
  }
}
