package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import picocli.CommandLine;

/** What the manual pages tell is what there is. The form of a page is that of man(7). */
class ManPageTest {

  private static final Path PAGES = Path.of("src/package/man");

  @Test
  void everyCommandAndOptionIsTold() {
    CommandLine program = new CommandLine(new Tappet());
    String page = ManPage.commands(program);

    for (CommandLine command : program.getSubcommands().values()) {
      String section = section(page, command.getCommandName());
      for (var option : command.getCommandSpec().options()) {
        boolean isHelp = option.usageHelp() || option.versionHelp();
        String told = "\\fB" + option.longestName().replace("-", "\\-") + "\\fR";
        assertEquals(!isHelp, section.contains(told), () -> told + " in\n" + section);
      }
      for (var parameter : command.getCommandSpec().positionalParameters()) {
        assertTrue(section.contains("\\fI" + parameter.paramLabel() + "\\fR"), section);
      }
    }
  }

  @Test
  void noTextIsTakenForAnOrder() {
    String page = ManPage.commands(new CommandLine(new Tappet()));

    Pattern orders = Pattern.compile("\\.(SS .+|TP|PP)");
    page.lines()
        .filter(line -> line.startsWith(".") || line.startsWith("'"))
        .forEach(line -> assertTrue(orders.matcher(line).matches(), line));
  }

  @Test
  void thePageHasRoomForTheCommands() throws IOException {
    assertTrue(Files.readString(PAGES.resolve("tappet.1")).contains("\n[[commands]]\n"));
  }

  @Test
  void everySettingIsToldAndNoOther() throws IOException {
    JsonNode schema =
        new ObjectMapper().readTree(Path.of("../config/schema/tappet.schema.json").toFile());
    Set<String> settings = new TreeSet<>();
    schema.get("properties").fieldNames().forEachRemaining(settings::add);

    Set<String> told = new TreeSet<>();
    Pattern.compile("(?m)^\\.TP\\n\\.B \"?([a-z ]+?)\"?$")
        .matcher(Files.readString(PAGES.resolve("tappet.yaml.5")))
        .results()
        .forEach(found -> told.add(found.group(1)));

    assertEquals(settings, told);
  }

  private static String section(String page, String command) {
    int start = page.indexOf(".SS tappet " + command);
    assertTrue(start >= 0, () -> "no command " + command + " in\n" + page);
    int end = page.indexOf("\n.SS", start);
    return end < 0 ? page.substring(start) : page.substring(start, end);
  }
}
