package tappet.lcc;

/** Which part of a datagram a frame carries (S-9.7.3.2 §7.1). */
enum DatagramPart {
  ONLY,
  FIRST,
  MIDDLE,
  LAST
}
