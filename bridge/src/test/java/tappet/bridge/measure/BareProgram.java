package tappet.bridge.measure;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.jar.JarEntry;
import java.util.jar.JarOutputStream;
import java.util.regex.Pattern;

/**
 * Starts {@link BareStack} as the launcher starts the daemon: from jars, with the same options, and
 * with a class-data archive of its own.
 */
final class BareProgram {

  private static final long PATIENCE_S = 60;
  private static final Pattern READY = Pattern.compile("ready at");

  private final Path folder;
  private final Path jar;
  private final Path archive;

  private BareProgram(Path folder) {
    this.folder = folder;
    this.jar = folder.resolve("bare.jar");
    this.archive = folder.resolve("bare.jsa");
  }

  /** Makes its jar and its archive in a folder. */
  static BareProgram in(Path folder) throws IOException, InterruptedException {
    BareProgram bare = new BareProgram(folder);
    bare.pack();
    bare.makeArchive();
    return bare;
  }

  /** One start with its archive. */
  Program start() throws IOException {
    return start("-XX:SharedArchiveFile=" + archive);
  }

  /** Classes of a folder cannot be archived, those of a jar can. */
  private void pack() throws IOException {
    String name = BareStack.class.getName().replace('.', '/') + ".class";
    try (JarOutputStream packed = new JarOutputStream(Files.newOutputStream(jar));
        InputStream code = BareStack.class.getResourceAsStream("/" + name)) {
      packed.putNextEntry(new JarEntry(name));
      code.transferTo(packed);
    }
  }

  private void makeArchive() throws IOException, InterruptedException {
    Path classes = folder.resolve("bare.classes");
    try (Program listed = start("-XX:DumpLoadedClassList=" + classes)) {
      listed.readyNs();
    }
    List<String> dump =
        command(
            "-Xshare:dump",
            "-XX:SharedClassListFile=" + classes,
            "-XX:SharedArchiveFile=" + archive);
    Process dumped =
        new ProcessBuilder(dump)
            .redirectErrorStream(true)
            .redirectOutput(folder.resolve("bare.dump").toFile())
            .start();
    if (!dumped.waitFor(PATIENCE_S, TimeUnit.SECONDS) || dumped.exitValue() != 0) {
      throw new IOException("no archive was made, see " + folder.resolve("bare.dump"));
    }
  }

  private Program start(String option) throws IOException {
    List<String> command = command(option, BareStack.class.getName());
    command.add(Settings.demoLayoutFile().toString());
    command.add(folder.resolve("bare.db").toString());
    return Program.of(command, READY);
  }

  private List<String> command(String... options) {
    List<String> command = Program.jars(jar.toString());
    command.addAll(List.of(options));
    return command;
  }
}
