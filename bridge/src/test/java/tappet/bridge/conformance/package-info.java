/**
 * The daemon as other nodes see it: a process of its own, a socket, and text frames. A dialogue is
 * written as on the wire, with {@code ddd} for the alias of the device under test, {@code ttt} and
 * {@code uuu} for those of the tester; what each test checks is listed in {@code
 * conformance/README.md}.
 */
package tappet.bridge.conformance;
