/**
 * What safety is, from the track plan and the physics of trains alone: ways, authorities, and the
 * properties that a network must have. Nothing here can see a rule or how it was compiled.
 */
package tappet.proof.track;
