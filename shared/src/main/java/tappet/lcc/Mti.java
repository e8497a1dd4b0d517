package tappet.lcc;

/** The kinds of frames by number: message type identifiers and control contents. */
final class Mti {

  // S-9.7.3 §3.3
  static final int OPTIONAL_INTERACTION_REJECTED = 0x068;
  static final int TERMINATE_DUE_TO_ERROR = 0x0A8;
  static final int INITIALIZATION_COMPLETE = 0x100;
  static final int INITIALIZATION_COMPLETE_SIMPLE = 0x101;
  static final int VERIFIED_NODE_ID = 0x170;
  static final int VERIFIED_NODE_ID_SIMPLE = 0x171;
  static final int VERIFY_NODE_ID_ADDRESSED = 0x488;
  static final int VERIFY_NODE_ID_GLOBAL = 0x490;
  static final int PROTOCOL_SUPPORT_REPLY = 0x668;
  static final int PROTOCOL_SUPPORT_INQUIRY = 0x828;

  // S-9.7.3.1 §4; the Identified messages carry a validity in their two lowest bits
  static final int CONSUMER_RANGE_IDENTIFIED = 0x4A4;
  static final int CONSUMER_IDENTIFIED = 0x4C4;
  static final int PRODUCER_RANGE_IDENTIFIED = 0x524;
  static final int PRODUCER_IDENTIFIED = 0x544;
  static final int EVENT_REPORT = 0x5B4;
  static final int IDENTIFY_CONSUMER = 0x8F4;
  static final int IDENTIFY_PRODUCER = 0x914;
  static final int IDENTIFY_EVENTS_ADDRESSED = 0x968;
  static final int IDENTIFY_EVENTS_GLOBAL = 0x970;
  static final int EVENT_REPORT_WITH_PAYLOAD = 0xF16;
  static final int PAYLOAD_GOES_ON = 0xF15;
  static final int PAYLOAD_ENDS = 0xF14;

  // S-9.7.4.3 §4
  static final int SIMPLE_NODE_INFORMATION_REPLY = 0xA08;
  static final int SIMPLE_NODE_INFORMATION_REQUEST = 0xDE8;

  // S-9.7.3.2 §4; STREAM-S (draft) §4
  static final int DATAGRAM_RECEIVED_OK = 0xA28;
  static final int DATAGRAM_REJECTED = 0xA48;
  static final int DATAGRAM = 0x1C48;
  static final int STREAM_DATA = 0x1F88;

  // Contents of control frames, S-9.7.2.1 §6.1
  static final int RESERVE_ID = 0x0700;
  static final int ALIAS_MAP_DEFINITION = 0x0701;
  static final int ALIAS_MAP_ENQUIRY = 0x0702;
  static final int ALIAS_MAP_RESET = 0x0703;
  static final int CHECK_ID_MIN = 0x1000;

  /** What of a 16-bit MTI is left on CAN (S-9.7.3 §7.3.1.3). */
  static final int CAN_MASK = 0xFFF;

  private Mti() {}
}
