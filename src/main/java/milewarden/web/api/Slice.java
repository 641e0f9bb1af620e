package milewarden.web.api;

import io.javalin.http.BadRequestResponse;
import io.javalin.http.Context;
import java.nio.charset.StandardCharsets;
import java.util.Base64;
import org.jspecify.annotations.Nullable;

/** Which part of a list is asked for: {@code limit} items from where {@code cursor} says. */
record Slice(int offset, int limit) {
  private static final int USUAL = 50;
  private static final int MOST = 500;
  private static final String PREFIX = "from:";

  static Slice of(Context http) {
    return new Slice(offset(http.queryParam("cursor")), limit(http.queryParam("limit")));
  }

  private static int limit(@Nullable String text) {
    if (text == null) return USUAL;
    int limit = parsed(text);
    if (limit < 1 || limit > MOST)
      throw new BadRequestResponse("limit is a number from 1 to " + MOST + ", not " + text + ".");
    return limit;
  }

  private static int offset(@Nullable String cursor) {
    if (cursor == null) return 0;
    try {
      String text = new String(Base64.getUrlDecoder().decode(cursor), StandardCharsets.UTF_8);
      int offset = text.startsWith(PREFIX) ? parsed(text.substring(PREFIX.length())) : -1;
      if (offset >= 0) return offset;
    } catch (IllegalArgumentException e) {
      // Answered below: no cursor of ours.
    }
    throw new BadRequestResponse("This cursor is not one that the API gave: begin without it.");
  }

  /**
   * @return -1 where it is no whole number
   */
  private static int parsed(String text) {
    try {
      return Integer.parseInt(text);
    } catch (NumberFormatException e) {
      return -1;
    }
  }

  String next() {
    byte[] text = (PREFIX + (offset + limit)).getBytes(StandardCharsets.UTF_8);
    return Base64.getUrlEncoder().withoutPadding().encodeToString(text);
  }
}
