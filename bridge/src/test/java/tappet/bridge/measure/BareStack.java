package tappet.bridge.measure;

import io.netty.bootstrap.ServerBootstrap;
import io.netty.channel.ChannelInboundHandlerAdapter;
import io.netty.channel.EventLoopGroup;
import io.netty.channel.MultiThreadIoEventLoopGroup;
import io.netty.channel.nio.NioIoHandler;
import io.netty.channel.socket.nio.NioServerSocketChannel;
import java.net.InetAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.concurrent.CountDownLatch;
import org.slf4j.LoggerFactory;
import org.snakeyaml.engine.v2.api.Load;
import org.snakeyaml.engine.v2.api.LoadSettings;

/**
 * The baseline of the daemon's start: its libraries for files, log, journal and network, each of
 * which is used once, and nothing of Tappet.
 */
final class BareStack {

  private BareStack() {}

  /** Reads a YAML file, the first argument, and keeps something in a new database, the second. */
  public static void main(String[] files) throws Exception {
    Object read =
        new Load(LoadSettings.builder().build())
            .loadFromString(Files.readString(Path.of(files[0])));
    keep(String.valueOf(read).length(), files[1]);
    EventLoopGroup loops = new MultiThreadIoEventLoopGroup(1, NioIoHandler.newFactory());
    var server =
        new ServerBootstrap()
            .group(loops)
            .channel(NioServerSocketChannel.class)
            .childHandler(new ChannelInboundHandlerAdapter())
            .bind(InetAddress.getLoopbackAddress(), 0)
            .sync();
    LoggerFactory.getLogger(BareStack.class).info("ready at {}", server.channel().localAddress());
    new CountDownLatch(1).await();
  }

  private static void keep(int number, String database) throws SQLException {
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + database);
        Statement statement = connection.createStatement()) {
      statement.execute("create table if not exists seen (number integer)");
      statement.execute("insert into seen values (" + number + ")");
    }
  }
}
