package tappet.bridge.web;

import io.netty.handler.codec.http.HttpResponseStatus;

/**
 * How the daemon fares.
 *
 * @param well whether it can do its work
 * @param json each of its parts, as a JSON object
 */
public record Health(boolean well, String json) {

  /** What HTTP says of it: 200, or 503 where the daemon cannot do its work (RFC 9110 §15). */
  public HttpResponseStatus status() {
    return well ? HttpResponseStatus.OK : HttpResponseStatus.SERVICE_UNAVAILABLE;
  }
}
