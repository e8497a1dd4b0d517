package tappet.bridge;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** A small file that holds the old text or the new one, whatever happens while it is written. */
final class DurableFile {

  private static final Logger LOG = LoggerFactory.getLogger(DurableFile.class);

  private DurableFile() {}

  /**
   * Writes the file whole and under another name first. When this returns, it outlasts a power cut.
   *
   * @throws IOException if it cannot be written; the file then holds the old or the new text
   */
  static void write(Path file, byte[] text) throws IOException {
    Path fresh = file.resolveSibling(file.getFileName() + ".new");
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
    keepName(file.toAbsolutePath().getParent());
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
