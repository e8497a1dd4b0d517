package tappet.bridge.pages;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

/** Asks as a browser does. */
final class Browser {

  private static final ObjectMapper JSON = new ObjectMapper();

  private final HttpClient client = HttpClient.newHttpClient();
  private final String host;
  private Optional<String> cookie = Optional.empty();
  private String token = "";

  Browser(String host) {
    this.host = host;
  }

  /** What came back. */
  record Got(int status, String text, HttpResponse<String> whole) {

    JsonNode json() {
      try {
        return JSON.readTree(text);
      } catch (IOException e) {
        throw new AssertionError(text, e);
      }
    }
  }

  HttpClient client() {
    return client;
  }

  Got get(String path) {
    return send(HttpRequest.newBuilder(uri(path)).GET());
  }

  /** Enters, and keeps the cookie as a browser would. */
  Got enter(Role role, String pin, String name, String territory) {
    Map<String, String> form =
        Map.of("role", role.word(), "pin", pin, "name", name, "territory", territory);
    String body =
        form.entrySet().stream()
            .map(field -> field.getKey() + "=" + encoded(field.getValue()))
            .collect(Collectors.joining("&"));
    Got got = send(HttpRequest.newBuilder(uri("/api/enter")).POST(BodyPublishers.ofString(body)));
    got.whole()
        .headers()
        .firstValue("set-cookie")
        .ifPresent(given -> cookie = Optional.of(given.substring(0, given.indexOf(';'))));
    token = got.json().path("token").asText();
    return got;
  }

  Got tell(String sentence) {
    return post("/api/tell", sentence);
  }

  Got post(String path, String body) {
    return send(
        HttpRequest.newBuilder(uri(path))
            .header(Guard.TOKEN_HEADER, token)
            .POST(BodyPublishers.ofString(body)));
  }

  /** Without the token, as a page of another site would. */
  Got postWithoutToken(String path, String body, String... headers) {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(uri(path)).POST(BodyPublishers.ofString(body));
    if (headers.length > 0) {
      request.headers(headers);
    }
    return send(request);
  }

  private Got send(HttpRequest.Builder request) {
    cookie.ifPresent(kept -> request.header("Cookie", kept));
    try {
      HttpResponse<String> response = client.send(request.build(), BodyHandlers.ofString());
      return new Got(response.statusCode(), response.body(), response);
    } catch (IOException e) {
      throw new AssertionError(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new AssertionError(e);
    }
  }

  URI uri(String path) {
    return URI.create("http://" + host + path);
  }

  static String encoded(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }
}
