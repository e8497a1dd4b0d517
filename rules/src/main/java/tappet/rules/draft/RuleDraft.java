package tappet.rules.draft;

import java.util.List;
import java.util.Map;
import tappet.layout.Layout;
import tappet.layout.Signal;
import tappet.layout.TrackPlan;
import tappet.source.Problem;

/**
 * A rule file drafted from a track plan alone, for an owner to read through and to edit.
 *
 * @param text the rule file; {@link tappet.rules.RuleReader} reads it without a mistake
 * @param lacks what the layout lacks for a better draft, at its place in the layout file
 */
public record RuleDraft(String text, List<Problem> lacks) {

  /** Drafts rules for {@code layout}, which has been read without a mistake. */
  public static RuleDraft of(Layout layout) {
    TrackPlan plan = new TrackPlan(layout);
    Map<Signal, List<DraftedRoute>> bySignal = new RouteDrafter(plan).routes();
    List<DraftedRoute> routes = bySignal.values().stream().flatMap(List::stream).toList();
    Ladders ladders = new Ladders(routes, layout);
    List<DraftedRoute> signalled =
        routes.stream().filter(route -> ladders.speedOf(route).isPresent()).toList();
    DraftText text =
        new DraftText(
            plan,
            ladders,
            new Flanks(signalled, plan),
            new Lines(signalled, new Meets(signalled, plan), plan));
    return new RuleDraft(text.of(bySignal), new Lacks(ladders).of(bySignal));
  }
}
