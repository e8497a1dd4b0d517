/**
 * The small language of sentences that rules, scenarios, the command line and the page share:
 * conditions ({@code section tilling-w is clear and not switch t1 is reverse}) and commands ({@code
 * line t2e to t4e}). In: a text and its place. Out: a condition or a command, or a problem with a
 * place and a suggestion. Whether the names exist is for the reader's caller to say.
 */
package tappet.sentence;
