/** Networks as clauses: for the solver in this program, and for any outside one. */
package tappet.proof.sat;
