package milewarden.web.api;

import io.javalin.http.Context;
import io.javalin.http.NotFoundResponse;

/** Ids in addresses. */
final class Ids {
  private Ids() {}

  static long of(Context http, String name) {
    String text = http.pathParam(name);
    try {
      return Long.parseLong(text);
    } catch (NumberFormatException e) {
      throw new NotFoundResponse("Nothing here has the id " + text + ".");
    }
  }
}
