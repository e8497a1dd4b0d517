package tappet.lcc;

import java.util.BitSet;
import java.util.Iterator;
import java.util.LinkedHashSet;
import java.util.Optional;
import java.util.Set;
import tappet.lcc.Message.ConsumerIdentified;
import tappet.lcc.Message.ConsumerRangeIdentified;
import tappet.lcc.Message.IdentifyConsumer;
import tappet.lcc.Message.IdentifyProducer;
import tappet.lcc.Message.ProducerIdentified;
import tappet.lcc.Message.ProducerRangeIdentified;
import tappet.lcc.Message.VerifiedNodeId;

/**
 * What a node still has to say and that can wait: answers to enquiries, its own enquiries, and its
 * events. One message at a time is taken from it, the most urgent first, with the state of that
 * moment. Whatever is asked for again before it has been said is said once (S-9.7.3 §3.4.2), so
 * this never holds more than the node has events, and {@value #QUEUE_MAX} answers and as many
 * enquiries; what is asked beyond that is left unanswered.
 */
final class Announcements {

  static final int QUEUE_MAX = 8192;

  private final NodeId id;
  private final LccNode.Application application;
  private final EventSet produced;
  private final EventSet consumed;

  private boolean verify;
  private final Set<Single> answers = new LinkedHashSet<>();
  private final Set<Single> enquiries = new LinkedHashSet<>();

  /** The round of all: produced ranges, consumed ranges, produced events, consumed events. */
  private final BitSet round = new BitSet();

  private final int consumedRangesFrom;
  private final int producersFrom;
  private final int consumersFrom;
  private final int roundLength;
  private int place;

  /** One event in one of the two roles. */
  private record Single(boolean producer, EventId event) {}

  Announcements(NodeId id, LccNode.Application application, EventSet produced, EventSet consumed) {
    this.id = id;
    this.application = application;
    this.produced = produced;
    this.consumed = consumed;
    this.consumedRangesFrom = produced.ranges().size();
    this.producersFrom = consumedRangesFrom + consumed.ranges().size();
    this.consumersFrom = producersFrom + produced.inOrder().size();
    this.roundLength = consumersFrom + consumed.inOrder().size();
  }

  void oweNodeId() {
    verify = true;
  }

  /**
   * All events, in each role. A round under way goes on from where it is, and then has what it has
   * told before once more, so that asking again and again starves no event.
   */
  void oweAllEvents() {
    place = round.isEmpty() ? 0 : place;
    round.set(0, roundLength);
  }

  /** An answer as producer, in the single form even inside a range (S-9.7.3.1 §6.3). */
  void oweProducer(EventId event) {
    queue(answers, new Single(true, event));
  }

  void oweConsumer(EventId event) {
    queue(answers, new Single(false, event));
  }

  /** A question of the node's own; false if there are too many already. */
  boolean askProducer(EventId event) {
    return queue(enquiries, new Single(true, event));
  }

  boolean askConsumer(EventId event) {
    return queue(enquiries, new Single(false, event));
  }

  private static boolean queue(Set<Single> waiting, Single single) {
    if (waiting.size() < QUEUE_MAX) {
      waiting.add(single);
    }
    return waiting.contains(single);
  }

  /** Whether others have yet to be told that the node produces the event. */
  boolean owesProducer(EventId event) {
    int listed = produced.indexOf(event.value());
    return listed == EventSet.NOT_LISTED
        ? round.nextSetBit(0) >= 0 && round.nextSetBit(0) < consumedRangesFrom
        : round.get(producersFrom + listed);
  }

  boolean isEmpty() {
    return !verify && answers.isEmpty() && enquiries.isEmpty() && round.isEmpty();
  }

  /** Takes out the next message; empty if there is none. */
  Optional<Message> next(int alias) {
    if (verify) {
      verify = false;
      return Optional.of(new VerifiedNodeId(alias, id, false));
    }
    if (!answers.isEmpty()) {
      return Optional.of(identified(take(answers), alias));
    }
    if (!enquiries.isEmpty()) {
      return Optional.of(enquiry(take(enquiries), alias));
    }
    return round.isEmpty() ? Optional.empty() : Optional.of(nextOfRound(alias));
  }

  /** The announcement of one produced event, out of turn. */
  Message producerNow(EventId event, int alias) {
    return identified(new Single(true, event), alias);
  }

  private static Single take(Set<Single> waiting) {
    Iterator<Single> first = waiting.iterator();
    Single single = first.next();
    first.remove();
    return single;
  }

  private static Message enquiry(Single single, int alias) {
    return single.producer()
        ? new IdentifyProducer(alias, single.event())
        : new IdentifyConsumer(alias, single.event());
  }

  /** Said once, an event need not be told again in the round. */
  private Message identified(Single single, int alias) {
    EventId event = single.event();
    if (single.producer()) {
      strike(producersFrom, produced.indexOf(event.value()));
      return new ProducerIdentified(alias, event, application.producerState(event));
    }
    strike(consumersFrom, consumed.indexOf(event.value()));
    return new ConsumerIdentified(alias, event, application.consumerState(event));
  }

  private void strike(int from, int listed) {
    if (listed != EventSet.NOT_LISTED) {
      round.clear(from + listed);
    }
  }

  private Message nextOfRound(int alias) {
    int due = round.nextSetBit(place);
    place = due < 0 ? round.nextSetBit(0) : due;
    round.clear(place);
    if (place < consumedRangesFrom) {
      return new ProducerRangeIdentified(alias, produced.ranges().get(place));
    }
    if (place < producersFrom) {
      EventRange range = consumed.ranges().get(place - consumedRangesFrom);
      return new ConsumerRangeIdentified(alias, range);
    }
    if (place < consumersFrom) {
      EventId event = produced.inOrder().get(place - producersFrom);
      return identified(new Single(true, event), alias);
    }
    EventId event = consumed.inOrder().get(place - consumersFrom);
    return identified(new Single(false, event), alias);
  }
}
