package tappet.bridge.adapter;

import io.netty.util.NetUtil;
import java.net.InetSocketAddress;

/** An address as an owner writes it. */
final class AddressText {

  private AddressText() {}

  static String of(InetSocketAddress address) {
    return NetUtil.toSocketAddressString(address);
  }
}
