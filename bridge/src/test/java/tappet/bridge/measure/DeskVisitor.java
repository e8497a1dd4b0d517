package tappet.bridge.measure;

import java.io.IOException;
import java.net.HttpURLConnection;
import java.net.InetSocketAddress;
import java.net.URI;
import java.nio.charset.StandardCharsets;

/** Tells the desk sentences. */
final class DeskVisitor {

  private static final int DONE = 200;

  private final URI tell;

  DeskVisitor(InetSocketAddress desk) {
    tell =
        URI.create("http://" + desk.getAddress().getHostAddress() + ":" + desk.getPort() + "/tell");
  }

  /** Whether what was asked for was done. */
  boolean tell(String sentence) throws IOException {
    HttpURLConnection connection = (HttpURLConnection) tell.toURL().openConnection();
    connection.setDoOutput(true);
    connection.setRequestMethod("POST");
    try (var body = connection.getOutputStream()) {
      body.write(sentence.getBytes(StandardCharsets.UTF_8));
    }
    int status = connection.getResponseCode();
    try (var answer = status < 400 ? connection.getInputStream() : connection.getErrorStream()) {
      answer.readAllBytes();
    }
    return status == DONE;
  }
}
