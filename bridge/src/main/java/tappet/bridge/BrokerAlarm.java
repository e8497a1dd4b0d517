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
    box.trouble(broker, what);
  }

  @Override
  public void over(String broker) {
    box.troubleOver(broker);
  }
}
