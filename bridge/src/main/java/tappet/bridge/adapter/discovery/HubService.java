package tappet.bridge.adapter.discovery;

/** What a hub speaks, and the name under which such hubs are found. */
public enum HubService {
  /** Text frames, as past use has them (TCP-TN (draft) §4.1). */
  TEXT_FRAMES("_openlcb-can._tcp.local."),

  /** Binary messages (TCP-TN (draft) §3.3.1). Draft. */
  MESSAGES("_openlcb-hub._tcp.local.");

  private final String type;

  HubService(String type) {
    this.type = type;
  }

  /** The service name in the network, such as {@code _openlcb-can._tcp.local.}. */
  public String type() {
    return type;
  }

  /** The service that a type names in either case, with or without the dot at its end. */
  static HubService ofType(String type) {
    for (HubService service : values()) {
      if (service.type.equalsIgnoreCase(type.endsWith(".") ? type : type + ".")) {
        return service;
      }
    }
    throw new IllegalArgumentException("service '" + type + "', expected one asked for");
  }
}
