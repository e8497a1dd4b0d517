package tappet.bridge.pages;

import static io.netty.handler.codec.http.HttpHeaderNames.COOKIE;
import static io.netty.handler.codec.http.HttpHeaderNames.HOST;
import static io.netty.handler.codec.http.HttpHeaderNames.ORIGIN;

import io.netty.handler.codec.http.FullHttpRequest;
import io.netty.handler.codec.http.cookie.Cookie;
import io.netty.handler.codec.http.cookie.ServerCookieDecoder;
import java.net.URI;
import java.util.Optional;
import java.util.regex.Pattern;

/** Tells whether a request comes from one of our own pages, and from whom. */
final class Guard {

  static final String COOKIE_NAME = "tappet";
  static final String TOKEN_HEADER = "X-Tappet";

  /**
   * Addresses, names without a dot, and names of the local network (RFC 6762 §3): a page of another
   * site can make its own name point here, but none of these.
   */
  private static final Pattern LOCAL_HOST =
      Pattern.compile(
          "([0-9.]+|\\[[0-9a-fA-F:.]+]|[A-Za-z0-9-]+|[A-Za-z0-9-]+(\\.[A-Za-z0-9-]+)*\\.(local|lan|home\\.arpa))(:\\d{1,5})?");

  private Guard() {}

  /** The host that was asked is one that only this network knows. */
  static boolean asksLocalHost(FullHttpRequest request) {
    return LOCAL_HOST.matcher(request.headers().get(HOST, "")).matches();
  }

  /** A browser sends an origin with whatever a page asks; ours is the host itself. */
  static boolean comesFromOtherSite(FullHttpRequest request) {
    String origin = request.headers().get(ORIGIN);
    return origin != null && !isOf(request.headers().get(HOST, ""), origin);
  }

  private static boolean isOf(String host, String origin) {
    try {
      return host.equalsIgnoreCase(
          Optional.ofNullable(URI.create(origin).getAuthority()).orElse(""));
    } catch (IllegalArgumentException e) {
      return false;
    }
  }

  /** The key in the browser's cookie; empty text where there is none. */
  static String key(FullHttpRequest request) {
    return ServerCookieDecoder.STRICT.decode(request.headers().get(COOKIE, "")).stream()
        .filter(cookie -> cookie.name().equals(COOKIE_NAME))
        .map(Cookie::value)
        .findFirst()
        .orElse("");
  }

  /** The request carries the token of its session. */
  static boolean carriesToken(FullHttpRequest request, Session session) {
    return session.token().equals(request.headers().get(TOKEN_HEADER, ""));
  }
}
