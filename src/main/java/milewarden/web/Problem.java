package milewarden.web;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.json.JsonMapper;
import io.javalin.http.Context;
import java.nio.charset.StandardCharsets;

/**
 * An answer for programs that something is wrong.
 *
 * @param type always {@code about:blank}: the status says what kind it is
 * @param title the kind, short
 * @param status of HTTP
 * @param detail what, where, what to do
 * @param instance the path that was asked
 * @see "RFC 9457, Problem Details for HTTP APIs"
 */
record Problem(String type, String title, int status, String detail, String instance) {
  static final String MEDIA_TYPE = "application/problem+json";
  private static final JsonMapper JSON = new JsonMapper();

  static Problem of(int status, String title, String detail, String instance) {
    return new Problem("about:blank", title, status, detail, instance);
  }

  void answer(Context http) {
    try {
      http.status(status);
      http.result(JSON.writeValueAsString(this).getBytes(StandardCharsets.UTF_8));
      http.contentType(MEDIA_TYPE);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("a record of texts", e);
    }
  }
}
