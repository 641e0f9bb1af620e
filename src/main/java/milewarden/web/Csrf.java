package milewarden.web;

import io.javalin.http.Context;

/** The token that every form carries. */
final class Csrf {
  private Csrf() {}

  static String token(Context http) {
    String known = http.cookie("csrf");
    return known == null ? "" : known;
  }
}
