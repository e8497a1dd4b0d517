/** Proves a network safe, or finds the shortest story in which it is not. */
package tappet.proof;
