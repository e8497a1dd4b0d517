package tappet.bridge;

import tappet.bridge.box.BoxThread;
import tappet.bridge.mqtt.MqttLink;

/** What is wrong with a broker stands as an alarm of the box until it is over. */
final class BrokerAlarm implements MqttLink.Trouble {

  private final BoxThread box;

  BrokerAlarm(BoxThread box) {
    this.box = box;
  }

  @Override
  public void arises(String broker, String what) {
    var unused =
        box.ask(
            (signalBox, nowNs) -> {
              signalBox.trouble(broker, what);
              return broker;
            });
  }

  @Override
  public void over(String broker) {
    var unused =
        box.ask(
            (signalBox, nowNs) -> {
              signalBox.troubleOver(broker);
              return broker;
            });
  }
}
