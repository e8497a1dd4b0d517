package tappet.bridge.pages;

import java.util.Optional;

/**
 * Somebody who has entered.
 *
 * @param key what the browser keeps in its cookie
 * @param token what every command carries besides, so that no other site can send one
 * @param role what they may do
 * @param name what they are called
 * @param territory where a dispatcher may command; empty: everywhere
 */
record Session(String key, String token, Role role, String name, Optional<String> territory) {

  /** Somebody who only looks. */
  static final Session NOBODY = new Session("", "", Role.VIEWER, "", Optional.empty());

  boolean isNobody() {
    return role == Role.VIEWER;
  }

  boolean isOf(Role asRole, String asName) {
    return role == asRole && name.equals(asName);
  }

  Session in(Optional<String> other) {
    return new Session(key, token, role, name, other);
  }
}
