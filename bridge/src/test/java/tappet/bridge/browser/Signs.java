package tappet.bridge.browser;

import java.awt.image.BufferedImage;
import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** The signs in the key to the chart, as they look on the screen. */
final class Signs {

  /** So much lighter or darker, of 255, is seen by everybody. */
  private static final int STEP = 48;

  /** Of a sign's pixels; some four strokes of a pen in one of 90 by 60. */
  private static final double SHARE_LEAST = 0.01;

  private final Map<String, BufferedImage> byWords = new LinkedHashMap<>();

  private Signs() {}

  /** Those in the key that is open on the page, whole in the window. */
  static Signs of(Chromium page) throws IOException {
    BufferedImage all = page.picture();
    Object width = page.driver().executeScript("return window.innerWidth");
    int scale = all.getWidth() / ((Number) width).intValue();
    Signs signs = new Signs();
    for (Object item : (List<?>) page.driver().executeScript(PLACES)) {
      Map<?, ?> sign = (Map<?, ?>) item;
      BufferedImage cut =
          all.getSubimage(
              scale * of(sign, "x"),
              scale * of(sign, "y"),
              scale * of(sign, "width"),
              scale * of(sign, "height"));
      signs.byWords.put((String) sign.get("words"), cut);
    }
    return signs;
  }

  private static final String PLACES =
      """
      return [...document.querySelectorAll('.key li')].map(item => {
        const {x, y, width, height} = item.querySelector('svg').getBoundingClientRect();
        return {words: item.querySelector('span').textContent.trim(), x: Math.round(x), y: Math.round(y),
          width: Math.floor(width), height: Math.floor(height)};
      });
      """;

  private static int of(Map<?, ?> sign, String side) {
    return ((Number) sign.get(side)).intValue();
  }

  int count() {
    return byWords.size();
  }

  /** Pairs of signs of one size that light and dark alone do not tell apart. */
  List<String> alike() {
    List<String> alike = new ArrayList<>();
    List<String> words = List.copyOf(byWords.keySet());
    for (int one = 0; one < words.size(); one++) {
      for (int other = one + 1; other < words.size(); other++) {
        if (areAlike(byWords.get(words.get(one)), byWords.get(words.get(other)))) {
          alike.add(words.get(one) + " | " + words.get(other));
        }
      }
    }
    return alike;
  }

  private static boolean areAlike(BufferedImage one, BufferedImage other) {
    if (one.getWidth() != other.getWidth() || one.getHeight() != other.getHeight()) {
      return false;
    }
    int apart = 0;
    for (int x = 0; x < one.getWidth(); x++) {
      for (int y = 0; y < one.getHeight(); y++) {
        if (Math.abs(lightness(one.getRGB(x, y)) - lightness(other.getRGB(x, y))) > STEP) {
          apart++;
        }
      }
    }
    return apart < SHARE_LEAST * one.getWidth() * one.getHeight();
  }

  /** ITU-R BT.709-6, item 3.2: how light a colour looks, from 0 to 255. */
  private static double lightness(int rgb) {
    return 0.2126 * (rgb >> 16 & 255) + 0.7152 * (rgb >> 8 & 255) + 0.0722 * (rgb & 255);
  }
}
