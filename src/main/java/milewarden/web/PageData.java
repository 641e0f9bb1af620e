package milewarden.web;

import com.fasterxml.jackson.annotation.JsonIncludeProperties;
import com.fasterxml.jackson.annotation.JsonValue;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.SerializerProvider;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.module.SimpleModule;
import com.fasterxml.jackson.databind.ser.std.StdSerializer;
import com.fasterxml.jackson.datatype.jdk8.Jdk8Module;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import io.javalin.http.BadRequestResponse;
import io.javalin.http.Context;
import io.javalin.http.NotFoundResponse;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import milewarden.report.Status;
import milewarden.report.page.Strip;
import org.jspecify.annotations.Nullable;

/**
 * A page for programs: its own record as JSON ({@code ?as=json}) and each of its tables as CSV
 * ({@code ?as=csv&table=NAME}). There is nothing on a page that is not in it.
 */
public final class PageData {
  private static final JsonMapper JSON =
      JsonMapper.builder()
          .addModule(new Jdk8Module())
          .addModule(new JavaTimeModule())
          .addModule(new SimpleModule().addSerializer(new Plain()))
          // Times are RFC 3339.
          .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS)
          .enable(SerializationFeature.INDENT_OUTPUT)
          .addMixIn(Status.class, WordOnly.class)
          .addMixIn(Strip.class, Figures.class)
          .build();

  private PageData() {}

  /** True where a page is asked for as data. */
  public static boolean isAsked(Context http) {
    String as = http.queryParam("as");
    return as != null && !as.isEmpty();
  }

  /** Answers a request for the page as data; false for one for the page itself. */
  static boolean answered(Context http, Object page) {
    String as = http.queryParam("as");
    if (as == null || as.isEmpty()) return false;
    switch (as) {
      case "json" -> http.contentType("application/json; charset=utf-8").result(json(page));
      case "csv" ->
          http.contentType("text/csv; charset=utf-8; header=present")
              .result(csv(PageTables.of(page), http.queryParam("table")));
      default ->
          throw new BadRequestResponse(
              "A page can be had as json or as csv, not as " + as + ". Write as=json or as=csv.");
    }
    return true;
  }

  private static String json(Object page) {
    try {
      return JSON.writeValueAsString(page);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("the page " + page.getClass(), e);
    }
  }

  private static String csv(PageTables tables, @Nullable String name) {
    String known =
        tables.names().isEmpty()
            ? "This page has no table."
            : "Its tables are " + String.join(", ", tables.names()) + ": write table=NAME.";
    if (name == null) throw new BadRequestResponse(known);
    return tables
        .csv(name)
        .orElseThrow(() -> new NotFoundResponse("No table is named " + name + ". " + known));
  }

  /** Where the page can be had as data; nothing for the answer to a form, which has no address. */
  static List<Frame.Place> places(Context http, Object page) {
    if (!http.req().getMethod().equals("GET") || page instanceof milewarden.report.ProblemPage)
      return List.of();
    String query = http.queryString();
    String start =
        http.path() + "?" + (query == null || query.isEmpty() ? "" : query + "&") + "as=";
    List<Frame.Place> places = new ArrayList<>();
    places.add(new Frame.Place(start + "json", "JSON", false));
    for (String name : PageTables.of(page).names())
      places.add(new Frame.Place(start + "csv&table=" + name, name.replace('-', ' '), false));
    return List.copyOf(places);
  }

  /** A state is its word. */
  private abstract static class WordOnly {
    @JsonValue
    abstract String word();
  }

  /** Of a strip its figures, not where they are drawn. */
  @JsonIncludeProperties({"meanPercent", "lowPercent", "highPercent", "words"})
  private abstract static class Figures {}

  /** Texts with the signs of a keyboard. */
  private static final class Plain extends StdSerializer<String> {
    private static final long serialVersionUID = 1L;

    Plain() {
      super(String.class);
    }

    @Override
    public void serialize(String text, JsonGenerator out, SerializerProvider provider)
        throws IOException {
      out.writeString(Parts.plain(text));
    }
  }
}
