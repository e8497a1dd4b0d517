package tappet.bridge.pages;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.QuickDaemon;
import tappet.sentence.Command.Heading;

/**
 * The interface is as {@code openapi.json} describes it (OpenAPI 3.1.0, whose schemas are those of
 * JSON Schema 2020-12, §4.8.24): each answer of a running daemon is judged by networknt's
 * validator.
 */
class OpenApiTest {

  private static final ObjectMapper JSON = new ObjectMapper();

  @TempDir static Path folder;
  private static QuickDaemon daemon;
  private static JsonNode description;
  private static Browser owner;

  @BeforeAll
  static void start() throws IOException {
    daemon = QuickDaemon.start(folder, QuickDaemon.train("Extra 41", "west-main", Heading.EAST));
    owner = new Browser(daemon.host());
    owner.enter(Role.OWNER, daemon.pin(Role.OWNER), "Olga", "");
    description = owner.get("/api/openapi.json").json();
  }

  @AfterAll
  static void stop() {
    daemon.close();
  }

  /** What is wrong with an answer, by the schema of its path, method and status. */
  private static void judge(String path, String method, Browser.Got got) {
    JsonNode response =
        description
            .path("paths")
            .path(path)
            .path(method)
            .path("responses")
            .path(String.valueOf(got.status()));
    assertTrue(!response.isMissingNode(), path + " is not said to answer " + got.status());
    judge(response.path("content").path("application/json").path("schema"), got.text());
  }

  private static void judge(JsonNode schema, String text) {
    ObjectNode whole = JSON.createObjectNode();
    whole.put("$schema", "https://json-schema.org/draft/2020-12/schema");
    whole.set("components", description.path("components"));
    whole.setAll((ObjectNode) schema);
    Schema judge =
        SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12).getSchema(whole);
    try {
      assertEquals(List.of(), judge.validate(JSON.readTree(text)), text);
    } catch (IOException e) {
      throw new AssertionError(text, e);
    }
  }

  @Test
  void everyQuestionIsAnsweredAsDescribed() {
    for (String question :
        List.of(
            "/api/plan",
            "/api/way?from=t2e&to=t4e",
            "/api/way?from=t2e&to=nowhere",
            "/api/why?name=t2e",
            "/api/why?name=nothing",
            "/api/notes?place=nowhere",
            "/api/me",
            "/api/health",
            "/health",
            "/api/diary",
            "/api/news?find=simulator",
            "/api/nodes",
            "/api/events?after=0",
            "/api/rules",
            "/api/journal?kind=orders,frames&find=t&since=1&before=100",
            "/api/journal?kind=nothing",
            "/api/journal?before=soon",
            "/api/reload",
            "/api/live")) {
      judge(question.replaceFirst("\\?.*", ""), "get", owner.get(question));
    }
    Browser stranger = new Browser(daemon.host());
    for (String question :
        List.of("/api/nodes", "/api/events", "/api/rules", "/api/journal", "/api/reload")) {
      judge(question, "get", stranger.get(question));
    }
  }

  @Test
  void everySentenceIsAnsweredAsDescribed() {
    for (String sentence :
        List.of("start clock", "throw nothing normal", "kindly", "line f2e to t2e")) {
      judge("/api/tell", "post", owner.tell(sentence));
    }
    for (String wish : List.of("nonsense", "cancel", "try unproven", "cancel")) {
      judge("/api/reload", "post", owner.post("/api/reload", wish));
    }
    Browser stranger = new Browser(daemon.host());
    judge("/api/reload", "post", stranger.post("/api/reload", "try"));
    judge("/api/tell", "post", stranger.tell("start clock"));
    judge("/api/enter", "post", stranger.enter(Role.CREW, "wrong", "Ida", ""));
    judge("/api/enter", "post", stranger.enter(Role.CREW, daemon.pin(Role.CREW), "", ""));
    judge("/api/enter", "post", stranger.enter(Role.CREW, daemon.pin(Role.CREW), "Ida", ""));
    judge("/api/territory", "post", stranger.post("/api/territory", "north"));
    judge("/api/tell", "post", stranger.tell("start clock"));
    judge("/api/leave", "post", stranger.post("/api/leave", ""));
    judge("/api/leave", "post", stranger.post("/api/leave", ""));
  }

  @Test
  void everyMessageIsAsDescribed() {
    JsonNode schema = JSON.createObjectNode().put("$ref", "#/components/schemas/Message");
    try (Ear ear = Ear.at(daemon.host())) {
      ear.until(message -> message.has("state"));
      owner.tell("set clock to 09:00");
      ear.untilFact("clock", "clock", "shows", "09:00");
      ear.until(message -> !message.has("changed") && !message.has("news"));
      ear.all().forEach(message -> judge(schema, message.toString()));
    }
  }

  @Test
  void thePagesUseNothingThatIsNotDescribed() throws IOException {
    List<String> unknown = new ArrayList<>();
    try (var modules = Files.list(Path.of("src/main/resources/page"))) {
      for (Path module : modules.filter(file -> file.toString().endsWith(".js")).toList()) {
        var used = Pattern.compile("/api/[a-z]+(\\.json)?").matcher(Files.readString(module));
        while (used.find()) {
          if (description.path("paths").path(used.group()).isMissingNode()) {
            unknown.add(module.getFileName() + " uses " + used.group());
          }
        }
      }
    }
    assertEquals(List.of(), unknown);
  }
}
