/**
 * A first rule file for a layout, from its track plan alone.
 *
 * <p>In: a {@link tappet.layout.Layout}. Out: a {@link tappet.rules.draft.RuleDraft}, the text of a
 * rule file that reads without a mistake, and what the layout lacks for a better one. What a plan
 * cannot tell is said in comments for the owner to see to.
 *
 * <pre>
 *   plan → routes → flank switches, meets, approaches, ladders → text
 * </pre>
 */
package tappet.rules.draft;
