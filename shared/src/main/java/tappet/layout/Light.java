package tappet.layout;

import java.util.Optional;

/**
 * What one signal head shows.
 *
 * @param colour its colour; empty where the head is dark
 * @param flashing whether it flashes; never where it is dark
 */
public record Light(Optional<Colour> colour, boolean flashing) {

  /** A head that shows nothing. */
  public static final Light DARK = new Light(Optional.empty(), false);

  /** A steady light. */
  public static Light steady(Colour colour) {
    return new Light(Optional.of(colour), false);
  }

  /** A flashing light. */
  public static Light flashing(Colour colour) {
    return new Light(Optional.of(colour), true);
  }

  /** The light that an owner writes as {@code yellow}, {@code flashing yellow} or {@code dark}. */
  public static Optional<Light> parse(String words) {
    String written = words.strip();
    if (written.equals("dark")) {
      return Optional.of(DARK);
    }
    boolean flashing = written.startsWith("flashing ");
    return Colour.of(flashing ? written.substring("flashing ".length()).strip() : written)
        .map(colour -> new Light(Optional.of(colour), flashing));
  }

  /** As an owner writes it. */
  public String words() {
    return colour.map(lit -> (flashing ? "flashing " : "") + lit.word()).orElse("dark");
  }

  /** The same light if its flasher stuck. */
  Light stuck() {
    return new Light(colour, false);
  }

  /** A dark head is read as showing its most restrictive light (49 CFR 236.23). */
  Light asRead() {
    return colour.isEmpty() ? steady(Colour.RED) : this;
  }
}
