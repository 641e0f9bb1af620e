package milewarden.alert;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.security.cert.Certificate;
import java.security.cert.CertificateFactory;
import java.util.Collection;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLSocketFactory;
import javax.net.ssl.TrustManagerFactory;

/** Certificates in a PEM file, to be trusted instead of the usual authorities. */
public final class Certificates {
  private Certificates() {}

  /** True where the file holds a certificate. */
  public static boolean canBeRead(Path file) {
    try {
      return !read(file).isEmpty();
    } catch (IOException | GeneralSecurityException e) {
      return false;
    }
  }

  private static Collection<? extends Certificate> read(Path file)
      throws IOException, GeneralSecurityException {
    try (InputStream in = Files.newInputStream(file)) {
      return CertificateFactory.getInstance("X.509").generateCertificates(in);
    }
  }

  /** Sockets that trust these certificates and those that they vouch for, and no others. */
  static SSLSocketFactory trusting(Path file) throws IOException {
    try {
      KeyStore trusted = KeyStore.getInstance(KeyStore.getDefaultType());
      trusted.load(null, null);
      int number = 0;
      for (Certificate each : read(file)) trusted.setCertificateEntry("trusted-" + number++, each);
      TrustManagerFactory trust =
          TrustManagerFactory.getInstance(TrustManagerFactory.getDefaultAlgorithm());
      trust.init(trusted);
      SSLContext context = SSLContext.getInstance("TLS");
      context.init(null, trust.getTrustManagers(), null);
      return context.getSocketFactory();
    } catch (GeneralSecurityException e) {
      throw new IOException("the certificates of " + file + " can't be used: " + e.getMessage(), e);
    }
  }
}
