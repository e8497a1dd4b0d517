package tappet.rules;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import tappet.source.Place;

/**
 * How the electric lock of a switch is released (49 CFR 236.16, 236.207, 236.410).
 *
 * @param switchId the switch
 * @param releaseTime how long the signals over it have been at Stop before it is released, above
 *     zero
 * @param releaseSection the section on which a train gets it released at once
 * @param approach the sections in which a train may come towards it; if all are vacant it is
 *     released at once. Empty: one is always assumed
 * @param place where the row stands
 */
public record LockRule(
    String switchId,
    Duration releaseTime,
    Optional<String> releaseSection,
    List<String> approach,
    Place place) {}
