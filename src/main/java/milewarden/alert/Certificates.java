package milewarden.alert;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.security.cert.CertificateExpiredException;
import java.security.cert.CertificateFactory;
import java.security.cert.CertificateNotYetValidException;
import java.security.cert.X509Certificate;
import java.util.List;
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

  private static List<X509Certificate> read(Path file)
      throws IOException, GeneralSecurityException {
    try (InputStream in = Files.newInputStream(file)) {
      return CertificateFactory.getInstance("X.509").generateCertificates(in).stream()
          .map(X509Certificate.class::cast)
          .toList();
    }
  }

  private static boolean holdsToday(X509Certificate certificate) {
    try {
      certificate.checkValidity();
      return true;
    } catch (CertificateExpiredException | CertificateNotYetValidException e) {
      return false;
    }
  }

  /** Sockets that trust these certificates and those that they vouch for, and no others. */
  static SSLSocketFactory trusting(Path file) throws IOException {
    try {
      KeyStore trusted = KeyStore.getInstance(KeyStore.getDefaultType());
      trusted.load(null, null);
      int number = 0;
      // A certificate that is itself trusted is not asked for its dates by the platform.
      for (X509Certificate each : read(file))
        if (holdsToday(each)) trusted.setCertificateEntry("trusted-" + number++, each);
      if (number == 0) throw new IOException("every certificate in " + file + " has run out");
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
