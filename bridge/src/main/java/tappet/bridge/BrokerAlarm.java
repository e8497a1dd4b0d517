package tappet.bridge;

import tappet.bridge.box.BoxThread;
import tappet.bridge.mqtt.MqttLink;

/** A broker that is not reached stands as an alarm of the box until it is. */
final class BrokerAlarm implements MqttLink.Trouble {

  private final BoxThread box;

  BrokerAlarm(BoxThread box) {
    this.box = box;
  }

  @Override
  public void isMissed(String broker, String why) {
    box.trouble(broker, why);
  }

  @Override
  public void isBack(String broker) {
    box.troubleOver(broker);
  }
}
