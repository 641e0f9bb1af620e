package milewarden.web;

/**
 * Where the pages are served: always on the loopback address.
 *
 * @param port 0 for any free one
 */
public record WebSettings(int port) {
  public WebSettings {
    if (port < 0 || port > 65535) throw new IllegalArgumentException("port: " + port);
  }
}
