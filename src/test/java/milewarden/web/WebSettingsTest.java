package milewarden.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

final class WebSettingsTest {
  /** The wildcards name no place to go to (RFC 1122, 3.2.1.3; RFC 4291, 2.5.2). */
  @ParameterizedTest
  @CsvSource({
    "127.0.0.1, http://127.0.0.1:8081/",
    "0.0.0.0, http://127.0.0.1:8081/",
    "::, http://127.0.0.1:8081/",
    "192.0.2.7, http://192.0.2.7:8081/",
    "2001:db8::7, http://[2001:db8::7]:8081/",
    "localhost, http://localhost:8081/"
  })
  void aBrowserHereFindsThePages(String address, String at) {
    assertThat(new WebSettings(address, 0, Optional.empty()).here(8081)).isEqualTo(at);
  }
}
