package tappet.bridge.measure;

import java.io.IOException;
import java.nio.file.Path;

/** Starts the demo with its session, so many times as fast as time goes by. */
interface SessionStarter {
  Program start(Path settings, int speed) throws IOException;
}
