package tappet.rules;

import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.layout.Position;
import tappet.sentence.Condition;
import tappet.source.Place;

/**
 * One row of the control table.
 *
 * @param id the owner's name for the route, or {@code from-to}
 * @param from the signal it starts at
 * @param to the signal, or the joint at the end of track, it leads to
 * @param nextSignal {@code to} where that is a signal
 * @param path the sections it runs over, in order of travel
 * @param alsoClear further sections that must be clear, such as fouling ones
 * @param switches the position of every switch on its path
 * @param flank the position of switches off its path that keep others away
 * @param speed the speed whose aspect ladder it uses
 * @param release the time that runs when it is cancelled after its signal has been shown; zero
 *     where it is automatic
 * @param approach the sections in which a train may have seen its signal; empty: one is always
 *     assumed
 * @param conflicts further routes that may not be set together with it
 * @param overlap what is kept free beyond its end; empty where nothing is
 * @param callOn the aspect by which it lets a train into an occupied last section; empty where it
 *     does not (49 CFR 236.308 has such an exception named)
 * @param automatic whether its signal follows the traffic of its line and nobody asks for it
 * @param needs the owner's own condition
 * @param place where the row stands
 */
public record RouteRow(
    String id,
    String from,
    String to,
    Optional<String> nextSignal,
    List<String> path,
    List<String> alsoClear,
    Map<String, Position> switches,
    Map<String, Position> flank,
    String speed,
    Duration release,
    List<String> approach,
    List<String> conflicts,
    Optional<Overlap> overlap,
    Optional<String> callOn,
    boolean automatic,
    Optional<Condition> needs,
    Place place) {}
