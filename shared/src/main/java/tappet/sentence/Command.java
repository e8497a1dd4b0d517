package tappet.sentence;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import tappet.layout.Position;
import tappet.lcc.clock.ClockEvent;
import tappet.source.Place;

/** Something a person asks the railroad to do. A place is where the name stands. */
public sealed interface Command {

  /** The sentence as it is said: read again it means the same. */
  String words();

  /**
   * {@code line A to B}: ask for a route from one signal to another signal or end of track.
   *
   * @param place where {@code from} stands
   * @param toPlace where {@code to} stands
   */
  record Line(String from, String to, Place place, Place toPlace) implements OfRoute {
    @Override
    public String words() {
      return "line " + ends();
    }
  }

  /** {@code line route A-B}: the same by the route's own name, where several lead from A to B. */
  record LineRoute(String route, Place place) implements Command {
    @Override
    public String words() {
      return "line route " + Names.written(route);
    }
  }

  /** {@code fleet A to B}: line the route, and again behind each train until it is cancelled. */
  record Fleet(String from, String to, Place place, Place toPlace) implements OfRoute {
    @Override
    public String words() {
      return "fleet " + ends();
    }
  }

  /** {@code call on A to B}: line the route although its last section may be occupied. */
  record CallOn(String from, String to, Place place, Place toPlace) implements OfRoute {
    @Override
    public String words() {
      return "call on " + ends();
    }
  }

  /** {@code stack A to B}: line the route once, as soon as it can be. */
  record Stack(String from, String to, Place place, Place toPlace) implements OfRoute {
    @Override
    public String words() {
      return "stack " + ends();
    }
  }

  /** Asks for a route from one signal to another signal or end of track. */
  sealed interface OfRoute extends Command {

    /** The signal it starts at. */
    String from();

    /** The signal or joint it leads to. */
    String to();

    /** Where {@link #from} stands. */
    Place place();

    /** Where {@link #to} stands. */
    Place toPlace();

    /** {@code A to B}. */
    default String ends() {
      return Names.written(from()) + " to " + Names.written(to());
    }
  }

  /** {@code unfleet A}: let the route from A go behind the next train. */
  record Unfleet(String signal, Place place) implements Command {
    @Override
    public String words() {
      return "unfleet " + Names.written(signal);
    }
  }

  /** {@code unstack A}: forget what was stacked from A. */
  record Unstack(String signal, Place place) implements Command {
    @Override
    public String words() {
      return "unstack " + Names.written(signal);
    }
  }

  /** {@code set traffic midway east}: say which way trains run over an occupied line. */
  record SetTraffic(String line, Heading heading, Place place) implements Command {
    @Override
    public String words() {
      return "set traffic " + Names.written(line) + " " + heading.word();
    }
  }

  /** {@code cancel A}: take the signal away and give the route up. */
  record Cancel(String signal, Place place) implements Command {
    @Override
    public String words() {
      return "cancel " + Names.written(signal);
    }
  }

  /** {@code throw W reverse}. */
  record Throw(String switchId, Position position, Place place) implements Command {
    @Override
    public String words() {
      return "throw " + Names.written(switchId) + " " + position.word();
    }
  }

  /** {@code lock X}: send the bolt of an opening home. */
  record Lock(String opening, Place place) implements Command {
    @Override
    public String words() {
      return "lock " + Names.written(opening);
    }
  }

  /** {@code unlock X}: draw the bolt of an opening. */
  record Unlock(String opening, Place place) implements Command {
    @Override
    public String words() {
      return "unlock " + Names.written(opening);
    }
  }

  /**
   * {@code release Q}, {@code release Q to 'Extra 41'}: let the crew throw a switch that an
   * electric lock holds.
   *
   * @param holder to whom it is released
   */
  record Release(String switchId, Optional<String> holder, Place place) implements Command {
    @Override
    public String words() {
      return "release "
          + Names.written(switchId)
          + holder.map(to -> " to " + Names.written(to)).orElse("");
    }
  }

  /** {@code secure Q}: take a released switch back. */
  record Secure(String switchId, Place place) implements Command {
    @Override
    public String words() {
      return "secure " + Names.written(switchId);
    }
  }

  /** {@code throw W reverse for 'Way Freight'}: by the holder of the permit that W lies in. */
  record ThrowFor(String switchId, Position position, String holder, Place place)
      implements Command {
    @Override
    public String words() {
      return "throw "
          + Names.written(switchId)
          + " "
          + position.word()
          + " for "
          + Names.written(holder);
    }
  }

  /** Something that protects people at work, or ends that. */
  sealed interface OfProtection extends Command {}

  /** From now on people are protected. */
  sealed interface Protect extends OfProtection {
    /** Who is protected. */
    String holder();

    /** Why, where it was said. */
    Optional<String> reason();

    /** {@code because '…'} with a blank before it, where a reason was given. */
    default String because() {
      return reason().map(why -> " because " + Names.written(why)).orElse("");
    }
  }

  /** From now on people are not protected any more. */
  sealed interface EndProtection extends OfProtection {}

  /**
   * {@code grant permit to 'Way Freight' on mill-branch, yard-lead}: a crew gets sections to
   * itself.
   *
   * @param sections one or more, each once
   * @param place where the holder's name stands
   */
  record GrantPermit(String holder, List<String> sections, Optional<String> reason, Place place)
      implements Protect {
    public GrantPermit {
      sections = List.copyOf(sections);
    }

    @Override
    public String words() {
      return "grant permit to "
          + Names.written(holder)
          + " on "
          + sections.stream().map(Names::written).collect(Collectors.joining(", "))
          + because();
    }
  }

  /** {@code return permit of 'Way Freight'}. */
  record ReturnPermit(String holder, Place place) implements EndProtection {
    @Override
    public String words() {
      return "return permit of " + Names.written(holder);
    }
  }

  /** {@code block signal t2e for 'Section crew' because 'rail work'}. */
  record Block(
      Protected.Device device, String id, String holder, Optional<String> reason, Place place)
      implements Protect {
    @Override
    public String words() {
      return "block "
          + device.word()
          + " "
          + Names.written(id)
          + " for "
          + Names.written(holder)
          + because();
    }
  }

  /** {@code unblock signal t2e}. */
  record Unblock(Protected.Device device, String id, Place place) implements EndProtection {
    @Override
    public String words() {
      return "unblock " + device.word() + " " + Names.written(id);
    }
  }

  /** {@code flag creamery by 'Plant crew'}: a blue flag on a section. */
  record Flag(String section, String holder, Optional<String> reason, Place place)
      implements Protect {
    @Override
    public String words() {
      return "flag " + Names.written(section) + " by " + Names.written(holder) + because();
    }
  }

  /** {@code unflag creamery by 'Plant crew'}. */
  record Unflag(String section, String holder, Place place) implements EndProtection {
    @Override
    public String words() {
      return "unflag " + Names.written(section) + " by " + Names.written(holder);
    }
  }

  /** {@code confirm protections}: what is shown is all that stands, whatever has been lost. */
  record ConfirmProtections() implements EndProtection {
    @Override
    public String words() {
      return "confirm protections";
    }
  }

  /**
   * Something that people write on the chart for each other; the interlocking hears nothing of it.
   */
  sealed interface OfChart extends Command {}

  /** {@code name 'Extra 41' on west-main}: the train on a section is called so from now on. */
  record NameTrain(String train, String section, Place place, Place sectionPlace)
      implements OfChart {
    @Override
    public String words() {
      return "name " + Names.written(train) + " on " + Names.written(section);
    }
  }

  /** {@code drop name 'Extra 41'}: no train is called so any more. */
  record DropName(String train, Place place) implements OfChart {
    @Override
    public String words() {
      return "drop name " + Names.written(train);
    }
  }

  /** {@code acknowledge 'district east is tripped'}: somebody has seen the alarm. */
  record Acknowledge(String alarm, Place place) implements OfChart {
    @Override
    public String words() {
      return "acknowledge " + Names.written(alarm);
    }
  }

  /**
   * {@code ask for "grant permit to 'Way Freight' on mill-branch" by 'Way Freight'}: a crew asks
   * the dispatcher to say a sentence.
   *
   * @param sentence what is asked for, as it would be said
   * @param place where the sentence stands
   */
  record Ask(String sentence, String holder, Place place) implements OfChart {
    @Override
    public String words() {
      return "ask for " + Names.written(sentence) + " by " + Names.written(holder);
    }
  }

  /** {@code withdraw ask 7}: nobody asks for that any more. */
  record Withdraw(String number, Place place) implements OfChart {
    @Override
    public String words() {
      return "withdraw ask " + Names.written(number);
    }
  }

  /** Something for the engineer or the crew of a simulated train. */
  sealed interface OfTrain extends Command {

    /** The train that is told. */
    String train();
  }

  /** {@code run T}, {@code run T east}: let a simulated train go, turning it where told. */
  record Run(String train, Optional<Heading> heading, Place place) implements OfTrain {
    @Override
    public String words() {
      return "run " + Names.written(train) + Heading.behind(heading);
    }
  }

  /** {@code halt T}: bring a simulated train to a stand. */
  record Halt(String train, Place place) implements OfTrain {
    @Override
    public String words() {
      return "halt " + Names.written(train);
    }
  }

  /**
   * {@code pick up Reefers with T}, {@code pick up Reefers with T east}: run on, by sight and at
   * coupling speed in the end, to cars or another train that stand ahead, and couple to them.
   *
   * @param cars what is picked up
   * @param train the train that runs, whose name the whole has then
   * @param carsPlace where the name of what is picked up stands
   * @param place where the train's name stands
   */
  record PickUp(String cars, String train, Optional<Heading> heading, Place carsPlace, Place place)
      implements OfTrain {
    @Override
    public String words() {
      return "pick up "
          + Names.written(cars)
          + " with "
          + Names.written(train)
          + Heading.behind(heading);
    }
  }

  /** An end of a train, by the way it heads. */
  enum End {
    FRONT,
    REAR;

    /** As an owner writes it. */
    public String word() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  /**
   * {@code set out 3 cars of T as Reefers}, {@code set out 3 front cars of T as Reefers}: leave
   * cars behind where the train stands.
   *
   * @param count how many, above 0
   * @param end from which end of the train; empty for the one that has no engine
   * @param cars the name they have from now on
   * @param place where the train's name stands
   * @param carsPlace where the name of the cars stands
   */
  record SetOut(
      int count, Optional<End> end, String train, String cars, Place place, Place carsPlace)
      implements OfTrain {
    @Override
    public String words() {
      return "set out "
          + count
          + end.map(which -> " " + which.word()).orElse("")
          + (count == 1 ? " car of " : " cars of ")
          + Names.written(train)
          + " as "
          + Names.written(cars);
    }
  }

  /** Something for the layout's clock. */
  sealed interface OfClock extends Command {}

  /** {@code start clock}. */
  record StartClock() implements OfClock {
    @Override
    public String words() {
      return "start clock";
    }
  }

  /** {@code stop clock}. */
  record StopClock() implements OfClock {
    @Override
    public String words() {
      return "stop clock";
    }
  }

  /** {@code set clock to 06:30}, {@code set clock rate to 4}. */
  record SetClock(ClockEvent.Setting setting) implements OfClock {
    @Override
    public String words() {
      return "set clock " + ClockTexts.written(setting);
    }
  }

  /** Which way along the drawn plan: east is where {@code x} grows. */
  enum Heading {
    EAST,
    WEST;

    /** The other way. */
    public Heading opposite() {
      return this == EAST ? WEST : EAST;
    }

    /** As an owner writes it. */
    public String word() {
      return name().toLowerCase(Locale.ROOT);
    }

    /** The heading with a blank before it, where there is one. */
    static String behind(Optional<Heading> heading) {
      return heading.map(way -> " " + way.word()).orElse("");
    }
  }
}
