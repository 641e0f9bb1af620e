package milewarden.alert;

import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.KeyStore;
import java.util.ArrayList;
import java.util.Base64;
import java.util.List;
import javax.net.ssl.KeyManagerFactory;
import javax.net.ssl.SSLContext;

/** Certificates of the moment, made by the platform's own tool. */
final class Keytool {
  private static final char[] PASSWORD = "changeit".toCharArray();

  private Keytool() {}

  /**
   * A key with a certificate that vouches for itself.
   *
   * @param names as keytool's {@code -ext} takes them: {@code san=ip:127.0.0.1}
   * @param validity more arguments on when it holds
   */
  static Path keys(Path folder, String name, String names, String... validity) throws Exception {
    Path file = folder.resolve(name + ".p12");
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "keytool").toString(),
                "-genkeypair",
                "-alias",
                name,
                "-keyalg",
                "EC",
                "-dname",
                "CN=" + name,
                "-ext",
                names,
                "-keystore",
                file.toString(),
                "-storetype",
                "PKCS12",
                "-storepass",
                "changeit"));
    command.addAll(List.of(validity));
    Process tool = new ProcessBuilder(command).redirectErrorStream(true).start();
    String said =
        new String(tool.getInputStream().readAllBytes(), java.nio.charset.StandardCharsets.UTF_8);
    if (tool.waitFor() != 0) throw new IllegalStateException(said);
    return file;
  }

  private static KeyStore store(Path keys) throws Exception {
    KeyStore store = KeyStore.getInstance("PKCS12");
    try (InputStream in = Files.newInputStream(keys)) {
      store.load(in, PASSWORD);
    }
    return store;
  }

  /** The certificate as PEM (RFC 7468). */
  static Path pem(Path keys) throws Exception {
    KeyStore store = store(keys);
    byte[] der = store.getCertificate(store.aliases().nextElement()).getEncoded();
    String pem =
        "-----BEGIN CERTIFICATE-----\n"
            + Base64.getMimeEncoder(64, new byte[] {'\n'}).encodeToString(der)
            + "\n-----END CERTIFICATE-----\n";
    return Files.writeString(keys.resolveSibling(keys.getFileName() + ".pem"), pem);
  }

  static SSLContext context(Path keys) throws Exception {
    KeyManagerFactory managers =
        KeyManagerFactory.getInstance(KeyManagerFactory.getDefaultAlgorithm());
    managers.init(store(keys), PASSWORD);
    SSLContext context = SSLContext.getInstance("TLS");
    context.init(managers.getKeyManagers(), null, null);
    return context;
  }
}
