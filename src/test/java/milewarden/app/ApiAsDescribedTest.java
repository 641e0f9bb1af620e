package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaLocation;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Every operation of the API, asked of the whole server with a played campaign in its store:
 * status, kind and body are those that its own description (OpenAPI 3.1) names, by a validator of
 * JSON Schema that is not ours.
 */
final class ApiAsDescribedTest {
  private static final List<String> METHODS = List.of("get", "post", "put", "patch", "delete");
  // More than all runs of the demo on two pages.
  private static final int PAGES = 3;
  private static final String BOUNDARY = "part";

  @TempDir Path folder;
  private final ObjectMapper mapper = new ObjectMapper();
  private final Map<String, String> known = new HashMap<>();
  private final List<String> wrong = new ArrayList<>();
  private int checked;

  /** One operation: how it is asked, and what may come back. */
  private record Operation(String method, String path, JsonNode described, JsonNode all) {
    boolean isOfOneThing() {
      return path.contains("{");
    }

    boolean isAList() {
      return described.path("parameters").findValues("$ref").stream()
          .map(JsonNode::asText)
          .anyMatch(r -> r.endsWith("/cursor"));
    }

    JsonNode answer(int status) {
      JsonNode answer = described.path("responses").path(String.valueOf(status));
      String ref = answer.path("$ref").asText();
      return ref.isEmpty() ? answer : all.at(ref.substring(1));
    }
  }

  @Test
  void everyOperationAnswersAsItsDescriptionSays() throws Exception {
    try (App app = PlayedDemo.once().serveACopy(folder)) {
      Browsing browser = new Browsing(app.port());
      JsonNode description = mapper.readTree(browser.get("/api/v1/openapi.json").body());
      List<Operation> operations = operations(description);
      TreeSet<String> described = new TreeSet<>();
      for (Operation o : operations)
        described.add(o.method().toUpperCase(Locale.ROOT) + " /api/v1" + o.path());
      TreeSet<String> served = new TreeSet<>(app.routes());
      served.removeIf(r -> !r.contains(" /api/v1") || r.endsWith("/openapi.json"));
      assertThat(served).isEqualTo(described);

      know(browser);
      // Lists first, then what is one of them; what changes something comes last.
      for (String method : METHODS)
        for (Operation o : operations) if (o.method().equals(method)) ask(browser, o, description);
    }
    assertThat(wrong).isEmpty();
    assertThat(checked).isGreaterThan(70);
  }

  /**
   * What would be found, is: an answer with a field too many, one too few, and a number in words.
   */
  @Test
  void anAnswerThatIsNotAsDescribedIsSeen() throws Exception {
    JsonNode description =
        mapper.readTree(ApiAsDescribedTest.class.getResource("/milewarden/openapi.json"));
    String good =
        "{\"type\":\"about:blank\",\"title\":\"Not Found\",\"status\":404,\"detail\":\"x\",\"instance\":\"/x\"}";
    String schema = "#/components/schemas/Problem";
    assertThat(errors(description, schema, good)).isEmpty();
    for (String bad :
        List.of(
            good.replace("{", "{\"more\":1,"),
            good.replace("\"title\":\"Not Found\",", ""),
            good.replace("404", "\"404\"")))
      assertThat(errors(description, schema, bad)).as(bad).isNotEmpty();
  }

  private static List<Operation> operations(JsonNode description) {
    List<Operation> operations = new ArrayList<>();
    for (Map.Entry<String, JsonNode> path : description.get("paths").properties())
      for (String method : METHODS)
        if (path.getValue().has(method))
          operations.add(
              new Operation(method, path.getKey(), path.getValue().get(method), description));
    return operations;
  }

  // An id of each kind that is there.
  private void know(Browsing browser) throws Exception {
    for (String list :
        List.of("alerts", "due", "runs", "sessions", "verdicts", "courses", "tracks/received")) {
      JsonNode items = mapper.readTree(browser.get("/api/v1/" + list).body()).get("items");
      assertThat(items).as(list).isNotEmpty();
      JsonNode first = items.get(0);
      known.put("/" + list + "/", first.path(list.equals("courses") ? "slug" : "id").asText());
      if (list.equals("tracks/received")) known.put("/tracks/", first.get("sha256").asText());
    }
  }

  private void ask(Browsing browser, Operation o, JsonNode description) throws Exception {
    String there = o.path();
    String notThere = o.path();
    if (o.isOfOneThing()) {
      String head = o.path().substring(0, o.path().indexOf('{'));
      assertThat(known).containsKey(head);
      there = o.path().replaceFirst("\\{[^}]+}", known.get(head));
      notThere =
          o.path().replaceFirst("\\{[^}]+}", head.equals("/tracks/") ? "0".repeat(64) : "999999");
    }
    HttpResponse<String> answer = send(browser, o, there, "");
    check(o, there, answer, answer.statusCode() / 100 == 2);
    if (o.isAList()) {
      String next = answer.body();
      for (int page = 0; page < PAGES; page++) {
        String cursor = mapper.readTree(next).path("nextCursor").asText("");
        if (cursor.isEmpty() || cursor.equals("null")) break;
        HttpResponse<String> more = send(browser, o, there, "?limit=500&cursor=" + cursor);
        check(o, there + " further", more, more.statusCode() == 200);
        next = more.body();
      }
      HttpResponse<String> none = send(browser, o, there, "?limit=none");
      check(o, there + "?limit=none", none, none.statusCode() == 400);
    }
    if (o.isOfOneThing()) {
      HttpResponse<String> missing = send(browser, o, notThere, "");
      check(o, notThere, missing, missing.statusCode() == 404);
    }
    if (o.described().has("requestBody")) {
      HttpResponse<String> empty =
          browser.send(
              o.method().toUpperCase(Locale.ROOT),
              "/api/v1" + there,
              "{",
              "Content-Type",
              "application/json");
      check(o, there + " without a body", empty, empty.statusCode() == 400);
    }
  }

  private void check(Operation o, String asked, HttpResponse<String> answer, boolean expected) {
    String what = o.method() + " " + asked + " answers " + answer.statusCode();
    checked++;
    if (!expected) {
      wrong.add(what + ": " + answer.body().lines().findFirst().orElse(""));
      return;
    }
    JsonNode described = o.answer(answer.statusCode());
    String kind = answer.headers().firstValue("Content-Type").orElse("").split(";")[0];
    JsonNode content = described.path("content").path(kind);
    if (content.isMissingNode()) {
      wrong.add(what + " as " + kind + ", which its description doesn't name");
      return;
    }
    String schema = content.path("schema").path("$ref").asText();
    if (kind.endsWith("json") && !kind.equals("application/geo+json")) {
      if (schema.isEmpty()) wrong.add(what + " and no schema says with what");
      else errors(o.all(), schema, answer.body()).forEach(e -> wrong.add(what + ": " + e));
    }
  }

  private final Map<String, com.networknt.schema.Schema> schemas = new HashMap<>();

  private List<String> errors(JsonNode description, String schema, String body) {
    String id = "https://milewarden.invalid/openapi.json";
    return schemas
        .computeIfAbsent(
            schema,
            s ->
                SchemaRegistry.withDefaultDialect(
                        SpecificationVersion.DRAFT_2020_12,
                        b -> b.schemas(Map.of(id, description.toString())))
                    .getSchema(SchemaLocation.of(id + s)))
        .validate(body, InputFormat.JSON)
        .stream()
        .limit(3)
        .map(Object::toString)
        .toList();
  }

  private HttpResponse<String> send(Browsing browser, Operation o, String path, String query)
      throws Exception {
    String[] kind = {"Content-Type", "application/json"};
    String body = "";
    if (path.endsWith("/acknowledge")) body = "{\"by\":\"Ada\",\"words\":\"seen\"}";
    // PlayedDemo's clock stands on 2026-11-25.
    if (path.endsWith("/snooze")) body = "{\"by\":\"Ada\",\"until\":\"2026-11-28T07:00:00Z\"}";
    if (path.endsWith("/tags")) body = "{\"gait\":\"walk\"}";
    if (o.method().equals("post") && path.equals("/tracks")) {
      kind = new String[] {"Content-Type", "multipart/form-data; boundary=" + BOUNDARY};
      body =
          String.join(
              "\r\n",
              Arrays.asList(
                  "--" + BOUNDARY,
                  "Content-Disposition: form-data; name=\"file\"; filename=\"a.gpx\"",
                  "",
                  "<gpx/>",
                  "--" + BOUNDARY + "--",
                  ""));
    }
    String method = o.method().toUpperCase(Locale.ROOT);
    String target = "/api/v1" + path + query;
    return o.method().equals("get")
        ? browser.get(target)
        : browser.send(method, target, body, kind);
  }
}
