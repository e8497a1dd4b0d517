package tappet.simulator;

import tappet.lcc.CanFrame;

/** Something that hangs on the bus and hears every frame but its own. */
interface Port {

  void hear(CanFrame frame, long nowNs);
}
