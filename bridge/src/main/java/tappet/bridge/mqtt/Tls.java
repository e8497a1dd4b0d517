package tappet.bridge.mqtt;

import com.hivemq.client.mqtt.MqttClientSslConfig;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.security.cert.Certificate;
import java.security.cert.CertificateFactory;
import javax.net.ssl.TrustManagerFactory;

/** How the broker is known to be the owner's. The name in its certificate is compared as well. */
final class Tls {

  private Tls() {}

  /**
   * @throws IOException if the certificate cannot be read
   */
  static MqttClientSslConfig config(MqttPlan.Tls plan) throws IOException {
    var config = MqttClientSslConfig.builder();
    return plan.trust().isPresent()
        ? config.trustManagerFactory(trusting(plan.trust().get())).build()
        : config.build();
  }

  private static TrustManagerFactory trusting(Path file) throws IOException {
    try (InputStream pem = Files.newInputStream(file)) {
      KeyStore store = KeyStore.getInstance(KeyStore.getDefaultType());
      store.load(null, null);
      int number = 0;
      for (Certificate each : CertificateFactory.getInstance("X.509").generateCertificates(pem)) {
        store.setCertificateEntry("trusted" + number++, each);
      }
      TrustManagerFactory factory =
          TrustManagerFactory.getInstance(TrustManagerFactory.getDefaultAlgorithm());
      factory.init(store);
      return factory;
    } catch (GeneralSecurityException e) {
      throw new IOException(file + " is no certificate in PEM form: " + e.getMessage(), e);
    }
  }
}
