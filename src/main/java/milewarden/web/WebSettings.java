package milewarden.web;

import java.net.URI;
import java.util.Optional;

/**
 * Where the pages are served: always on the loopback address.
 *
 * @param port 0 for any free one
 * @param publicUrl address by which readers come through something in front of the server: its host
 *     is answered too
 */
public record WebSettings(int port, Optional<URI> publicUrl) {
  public WebSettings {
    if (port < 0 || port > 65535) throw new IllegalArgumentException("port: " + port);
  }

  public WebSettings(int port) {
    this(port, Optional.empty());
  }
}
