package milewarden.web;

import java.net.URI;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/**
 * Where the pages are served.
 *
 * @param address of this machine; on the loopback address alone nobody needs a passphrase
 * @param port 0 for any free one
 * @param publicUrl address by which readers come through something in front of the server: its host
 *     is answered too
 */
public record WebSettings(String address, int port, Optional<URI> publicUrl) {
  public static final String LOOPBACK = "127.0.0.1";
  private static final Set<String> LOOPBACKS = Set.of(LOOPBACK, "::1", "localhost");
  private static final Set<String> ANY = Set.of("0.0.0.0", "::");

  public WebSettings {
    if (port < 0 || port > 65535) throw new IllegalArgumentException("port: " + port);
  }

  public WebSettings(int port, Optional<URI> publicUrl) {
    this(LOOPBACK, port, publicUrl);
  }

  public WebSettings(int port) {
    this(port, Optional.empty());
  }

  /** True where only this machine can reach the server. */
  public static boolean isLoopback(String address) {
    return LOOPBACKS.contains(address.toLowerCase(Locale.ROOT));
  }

  /**
   * Where a browser on this machine finds the pages.
   *
   * @param taken the port, which differs from the settings' where that is 0
   */
  public String here(int taken) {
    String host = isAny() ? LOOPBACK : address;
    return "http://" + (host.indexOf(':') < 0 ? host : "[" + host + "]") + ":" + taken + "/";
  }

  boolean isAny() {
    return ANY.contains(address);
  }

  /** True where readers come by TLS, through something in front of the server. */
  public boolean secure() {
    return publicUrl.filter(u -> "https".equals(u.getScheme())).isPresent();
  }
}
