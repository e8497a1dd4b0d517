/**
 * The owner's rule file as a control table.
 *
 * <p>In: {@code rules.yaml} and the layout it is for. Out: a {@link tappet.rules.ControlTable} in
 * which every name is declared, every route really leads over the track it lists and every aspect
 * ladder bottoms out at Stop, or every mistake of the file. What the table means is for {@code
 * tappet.interlocking} to say.
 */
package tappet.rules;
