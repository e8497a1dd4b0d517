package tappet.bridge;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.OpenOption;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import tappet.layout.Layout;
import tappet.rules.draft.RuleDraft;

/** {@code tappet draft}. */
@Command(
    name = "draft",
    description = {
      "Writes a first rule file for a layout, from its track plan alone.",
      "Read it through before you use it: comments say what was chosen and why."
    },
    mixinStandardHelpOptions = true)
final class DraftCommand implements Callable<Integer> {

  private static final OpenOption[] NEW_FILE = {
    StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE
  };
  private static final OpenOption[] ANY_FILE = {
    StandardOpenOption.CREATE, StandardOpenOption.TRUNCATE_EXISTING, StandardOpenOption.WRITE
  };

  @Parameters(paramLabel = "LAYOUT", description = "the layout file")
  private Path layoutFile;

  @Option(
      names = "--output",
      paramLabel = "FILE",
      description = "the rule file to write; without it the draft is printed")
  private Optional<Path> output;

  @Option(names = "--force", description = "write over the rule file if there is one")
  private boolean force;

  @Override
  public Integer call() throws IOException {
    return FileCheck.exitStatus(
        System.err, problems -> new OwnerFiles(problems).layout(layoutFile), this::draft);
  }

  private int draft(Layout layout) {
    RuleDraft draft = RuleDraft.of(layout);
    draft.lacks().forEach(System.err::println);
    byte[] text = draft.text().getBytes(StandardCharsets.UTF_8);
    if (output.isPresent()) {
      return write(text, output.get());
    }
    System.out.writeBytes(text);
    return 0;
  }

  private int write(byte[] text, Path file) {
    try {
      if (Files.exists(file) && Files.isSameFile(file, layoutFile)) {
        return refuse("%s is the layout itself; name another file".formatted(file));
      }
      Files.write(file, text, force ? ANY_FILE : NEW_FILE);
      return 0;
    } catch (FileAlreadyExistsException e) {
      return refuse("%s is there already; add --force to write over it".formatted(file));
    } catch (IOException e) {
      return refuse(
          "%s cannot be written: %s; look at the folder and its permissions".formatted(file, e));
    }
  }

  private static int refuse(String why) {
    System.err.println(why);
    return 1;
  }
}
