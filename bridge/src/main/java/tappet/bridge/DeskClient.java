package tappet.bridge;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.ConnectException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/** Asks a running daemon. */
final class DeskClient {

  private static final Duration PATIENCE = Duration.ofSeconds(5);
  private static final int OK = 200;

  private final HttpClient client = HttpClient.newBuilder().connectTimeout(PATIENCE).build();

  /** Sends a sentence and prints the answer; the exit status is 0 if it was done. */
  int post(URI uri, String sentence) {
    return print(
        HttpRequest.newBuilder(uri)
            .timeout(PATIENCE)
            .POST(HttpRequest.BodyPublishers.ofString(sentence))
            .build());
  }

  /** Sends a sentence; the answer is printed only if it was not done. */
  boolean begin(URI uri, String sentence) {
    HttpRequest.BodyPublisher body = HttpRequest.BodyPublishers.ofString(sentence);
    HttpRequest request = HttpRequest.newBuilder(uri).timeout(PATIENCE).POST(body).build();
    return answer(request).isPresent();
  }

  /** Asks a question; empty, and why is printed, if there is no answer. */
  Optional<String> text(URI uri) {
    return answer(HttpRequest.newBuilder(uri).timeout(PATIENCE).build());
  }

  private Optional<String> answer(HttpRequest request) {
    List<String> answers = new ArrayList<>();
    int unused =
        guarded(
            request.uri(),
            () -> {
              HttpResponse<String> response =
                  client.send(request, HttpResponse.BodyHandlers.ofString());
              if (response.statusCode() == OK) {
                answers.add(response.body());
              } else {
                System.out.print(response.body());
              }
              return 0;
            });
    return answers.stream().findFirst();
  }

  /** Asks a question and prints the answer; the exit status is 0 if there was one. */
  int get(URI uri) {
    return print(HttpRequest.newBuilder(uri).timeout(PATIENCE).build());
  }

  /** Prints lines as they come, until the daemon ends. */
  int follow(URI uri) {
    return guarded(
        uri,
        () -> {
          HttpRequest request = HttpRequest.newBuilder(uri).build();
          try (Stream<String> lines =
              client.send(request, HttpResponse.BodyHandlers.ofLines()).body()) {
            lines.forEach(System.out::println);
          } catch (UncheckedIOException e) {
            throw e.getCause();
          }
          return 0;
        });
  }

  private int print(HttpRequest request) {
    return guarded(
        request.uri(),
        () -> {
          HttpResponse<String> response =
              client.send(request, HttpResponse.BodyHandlers.ofString());
          System.out.print(response.body());
          return response.statusCode() == OK ? 0 : 1;
        });
  }

  private interface Exchange {
    int run() throws IOException, InterruptedException;
  }

  private static int guarded(URI uri, Exchange exchange) {
    try {
      return exchange.run();
    } catch (ConnectException e) {
      System.err.printf("no daemon answers at %s; is it running?%n", uri.getAuthority());
    } catch (IOException e) {
      System.err.printf("the daemon at %s broke off: %s%n", uri.getAuthority(), e.getMessage());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    return 1;
  }
}
