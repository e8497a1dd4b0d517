package tappet.source;

import org.snakeyaml.engine.v2.events.AliasEvent;
import org.snakeyaml.engine.v2.events.CollectionEndEvent;
import org.snakeyaml.engine.v2.events.CollectionStartEvent;
import org.snakeyaml.engine.v2.events.Event;
import org.snakeyaml.engine.v2.events.ScalarEvent;
import org.snakeyaml.engine.v2.exceptions.ParserException;
import org.snakeyaml.engine.v2.parser.Parser;

/**
 * Stops what could exhaust a small computer before a tree grows from it: deep nesting, which is
 * composed by recursion, and aliases, by which a few lines stand for millions of values. Without
 * aliases every value also has exactly one place. Type tags are refused because nothing reads them.
 */
final class BoundedParser implements Parser {

  static final int DEPTH_MAX = 32;

  static final String TOO_DEEP = "nested too deeply";
  static final String ALIAS = "alias";
  static final String TAG = "tag of a type";

  private final Parser parser;
  private int depth;

  BoundedParser(Parser parser) {
    this.parser = parser;
  }

  @Override
  public boolean checkEvent(Event.ID kind) {
    return parser.checkEvent(kind);
  }

  @Override
  public Event peekEvent() {
    return parser.peekEvent();
  }

  @Override
  public boolean hasNext() {
    return parser.hasNext();
  }

  @Override
  public Event next() {
    Event event = parser.next();
    refuse(event instanceof AliasEvent, ALIAS, event);
    refuse(tagged(event), TAG, event);
    if (event instanceof CollectionStartEvent) {
      depth++;
    }
    if (event instanceof CollectionEndEvent) {
      depth--;
    }
    refuse(depth > DEPTH_MAX, TOO_DEEP, event);
    return event;
  }

  private static boolean tagged(Event event) {
    if (event instanceof ScalarEvent scalar) {
      return scalar.getTag().isPresent();
    }
    return event instanceof CollectionStartEvent start && start.getTag().isPresent();
  }

  private static void refuse(boolean bad, String why, Event event) {
    if (bad) {
      throw new ParserException(why, event.getStartMark());
    }
  }
}
