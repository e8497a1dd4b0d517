package tappet.bridge;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Optional;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** A small file that holds the old text or the new one, whatever happens while it is written. */
final class DurableFile {

  private static final Logger LOG = LoggerFactory.getLogger(DurableFile.class);

  private static final FileAttribute<?> OWNER_ALONE =
      PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-------"));

  private DurableFile() {}

  /**
   * Writes the file whole and under another name first. When this returns, it outlasts a power cut.
   *
   * @throws IOException if it cannot be written; the file then holds the old or the new text
   */
  static void write(Path file, byte[] text) throws IOException {
    write(file, text, fresh(file));
  }

  /**
   * The same, but nobody except the file's owner can ever read it, where the file system knows such
   * a thing.
   */
  static void writeForOwnerAlone(Path file, byte[] text) throws IOException {
    Path fresh = fresh(file);
    Files.deleteIfExists(fresh);
    if (Files.getFileStore(folder(file)).supportsFileAttributeView("posix")) {
      Files.createFile(fresh, OWNER_ALONE);
    }
    write(file, text, fresh);
  }

  private static Path fresh(Path file) {
    return file.resolveSibling(file.getFileName() + ".new");
  }

  private static Path folder(Path file) {
    return file.toAbsolutePath().getParent();
  }

  private static void write(Path file, byte[] text, Path fresh) throws IOException {
    try (FileChannel channel =
        FileChannel.open(
            fresh,
            StandardOpenOption.CREATE,
            StandardOpenOption.WRITE,
            StandardOpenOption.TRUNCATE_EXISTING)) {
      ByteBuffer left = ByteBuffer.wrap(text);
      while (left.hasRemaining()) {
        channel.write(left);
      }
      channel.force(true);
    }
    Files.move(fresh, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    keepName(folder(file));
  }

  /**
   * The same for text.
   *
   * @return why it could not be written, which is in the log too; empty if it is
   */
  static Optional<String> write(Path file, String text) {
    try {
      write(file, text.getBytes(StandardCharsets.UTF_8));
      return Optional.empty();
    } catch (IOException e) {
      LOG.error("{} cannot be written: {}", file, e.toString());
      return Optional.of(file.getFileName() + " cannot be written: " + e.getMessage());
    }
  }

  /**
   * Copies a file that makes no sense to where no start writes: somebody may still read a name in
   * it.
   *
   * @return the copy; empty where it could not be made, which is in the log then
   */
  static Optional<Path> putAside(Path file) {
    Path aside = file.resolveSibling(file.getFileName() + ".unread");
    try {
      Files.copy(file, aside, StandardCopyOption.REPLACE_EXISTING);
      return Optional.of(aside.getFileName());
    } catch (IOException e) {
      LOG.warn("{} cannot be copied: {}", file, e.toString());
      return Optional.empty();
    }
  }

  /** Lets what is still to be written to the file be written, and ends its thread. */
  static void finish(ExecutorService writer, Path file) {
    writer.shutdown();
    try {
      if (!writer.awaitTermination(5, TimeUnit.SECONDS)) {
        LOG.warn("{} could not be written in time", file);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /** The new name is an entry of the folder, which is written apart from the file. */
  private static void keepName(Path folder) throws IOException {
    try (FileChannel channel = FileChannel.open(folder, StandardOpenOption.READ)) {
      channel.force(true);
    }
  }
}
