package milewarden.alert;

import java.net.URI;
import java.time.Duration;

/**
 * Where alerts are posted for programs.
 *
 * @param secret signs what is posted; never printed
 * @param timeout for connecting and for the answer, each
 */
public record HookSettings(URI url, String secret, Duration timeout) {
  @Override
  public String toString() {
    return "HookSettings[host=" + url.getHost() + "]";
  }
}
