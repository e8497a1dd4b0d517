package tappet.bridge.record;

import java.util.List;

/**
 * A recording that has been read.
 *
 * @param sessions one for each start of a box, in the order of the file
 * @param remarks what people should know of it, in plain words
 */
public record Recording(List<Session> sessions, List<String> remarks) {

  public Recording {
    sessions = List.copyOf(sessions);
    remarks = List.copyOf(remarks);
  }
}
