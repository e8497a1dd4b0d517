/**
 * Changes an owner's rule file in one place, to see what that place is good for. What the keys of
 * the file mean is not known here.
 */
package tappet.proof.edit;
