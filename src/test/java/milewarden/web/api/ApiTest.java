package milewarden.web.api;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaLocation;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import milewarden.accuracy.ShownRun;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.device.Reading;
import milewarden.device.Rounding;
import milewarden.geodesy.Position;
import milewarden.intake.TagForm;
import milewarden.intake.drop.Bytes;
import milewarden.report.Digits;
import milewarden.report.Judged;
import milewarden.simulator.InventedCourse;
import milewarden.store.Database;
import milewarden.store.Id.FileId;
import milewarden.store.TestStores;
import milewarden.store.Tx;
import milewarden.store.file.Batches;
import milewarden.store.file.Contents;
import milewarden.store.file.FileQueue;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.Tags;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.Marks;
import milewarden.store.judged.Settling;
import milewarden.store.run.Courses;
import milewarden.store.run.Firmware;
import milewarden.store.run.Models;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;
import milewarden.store.run.Sessions;
import milewarden.store.told.Outbox;
import milewarden.track.TagName;
import milewarden.track.TagSource;
import milewarden.units.LengthUnit;
import milewarden.units.UnitChoice;
import milewarden.verdict.Policy;
import milewarden.web.Renderer;
import milewarden.web.WebServer;
import milewarden.web.WebSettings;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The API over HTTP, on a store with a little of everything. */
final class ApiTest {
  private static final Instant NOW = Instant.parse("2026-11-20T18:00:00Z");
  private static final byte[] TRACK = "<gpx/>".getBytes(StandardCharsets.UTF_8);
  private static final Path GOLDEN = Path.of("src/test/resources/api");

  @TempDir Path folder;
  private final HttpClient client = HttpClient.newHttpClient();
  private final List<Map<TagName, String>> tagsTaken = new ArrayList<>();
  private final List<String> troubles = new ArrayList<>();
  private int measurings;
  private Instant now = NOW;
  private Database database;
  private WebServer server;

  @BeforeEach
  void start() {
    database = TestStores.SQLITE.open(folder, () -> now);
    Digits digits = Digits.of(UnitChoice.METRIC, Locale.UK, ZoneOffset.UTC);
    Api api =
        new Api(
            database,
            digits,
            "1",
            Policy.defaults(),
            Optional.empty(),
            this::take,
            new TagForm(database, () -> measurings++),
            () -> List.copyOf(troubles));
    server =
        WebServer.start(
            new WebSettings(0),
            new Renderer(),
            List.of(api, new HeadToHeadApi(database, milewarden.verdict.Policy.defaults())));
  }

  @AfterEach
  void stop() {
    server.close();
    database.close();
  }

  private FileId take(String name, Bytes bytes, Map<TagName, String> tags) {
    tagsTaken.add(tags);
    try (InputStream in = bytes.open()) {
      byte[] all = in.readAllBytes();
      return database.write(tx -> receive(tx, name, all));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static FileId receive(Tx tx, String path, byte[] bytes) {
    Contents.Packed packed = Contents.pack(bytes);
    Contents.put(tx, packed);
    return ReceivedFiles.receive(
        tx, Batches.current(tx), path, packed.sha256(), ReceivedFiles.Kind.TRACK);
  }

  private void fill() {
    database.change(
        tx -> {
          ReferenceCourse course =
              InventedCourse.circle("mill-meadow-loop", new Position(0, 0), 63.66, 72);
          Courses.put(
              tx,
              course,
              "mill-meadow-loop.geojson",
              Contents.pack("{}".getBytes(StandardCharsets.UTF_8)),
              List.of("The line and the measured length differ by 0.2 %."));
          Models.Unit unit = Models.unit(tx, "fell-2-a", "Fell 2");
          Models.unit(tx, "fell-2-b", "Fell 2");
          Firmware.Known firmware =
              Firmware.seen(tx, unit.model(), "2.1.0", LocalDate.of(2026, 9, 3));
          Sessions.Session session =
              Sessions.tagged(
                  tx,
                  "2026-09-03 evening",
                  Instant.parse("2026-09-03T17:00:00Z"),
                  LocalDate.of(2026, 9, 3));
          for (int i = 0; i < 3; i++) run(tx, course, unit, firmware, session, i);
          Judgements.put(tx, unit.model(), Judged.model());
          Settling.settle(tx, unit.model(), List.of(Judged.worse(), Judged.untested()), false);
          Outbox.queue(tx, "m1@milewarden", Optional.empty(), "worse", "t", "h", Optional.empty());
        });
  }

  private static void run(
      Tx tx,
      ReferenceCourse course,
      Models.Unit unit,
      Firmware.Known firmware,
      Sessions.Session session,
      int i) {
    FileId file =
        receive(
            tx,
            "fell-2-a/2.1.0/pass-" + i + ".gpx",
            ("<gpx/>" + i).getBytes(StandardCharsets.UTF_8));
    var run =
        Runs.ofFile(
            tx,
            file,
            new Runs.Facts(
                session.id(),
                unit.id(),
                firmware.id(),
                "mill-meadow-loop",
                Carriage.SWING_LEFT,
                Gait.RUN,
                "",
                Instant.parse("2026-09-03T17:00:00Z").plusSeconds(600L * i),
                Optional.empty(),
                Optional.empty(),
                Optional.empty()));
    Reading reading = new Reading(0.41, LengthUnit.KILOMETRE, 0.01, Rounding.ROUNDED);
    Results.put(
        tx, run, "1", course, ShownRun.measure(course, 1, reading), Direction.FORWARD, reading);
    FileQueue.measured(tx, file);
  }

  private HttpResponse<String> get(String path) throws IOException, InterruptedException {
    return client.send(
        HttpRequest.newBuilder(URI.create(server.address()).resolve(path)).build(),
        BodyHandlers.ofString());
  }

  private JsonNode json(String path) throws IOException, InterruptedException {
    HttpResponse<String> answer = get(path);
    assertThat(answer.statusCode()).as(path + ": " + answer.body()).isEqualTo(200);
    return new JsonMapper().readTree(answer.body());
  }

  private static List<String> errors(String schema, String json) throws IOException {
    String openapi =
        new String(
            ApiTest.class.getResourceAsStream("/milewarden/openapi.json").readAllBytes(),
            StandardCharsets.UTF_8);
    String id = "https://milewarden.invalid/openapi.json";
    SchemaRegistry registry =
        SchemaRegistry.withDefaultDialect(
            SpecificationVersion.DRAFT_2020_12, b -> b.schemas(Map.of(id, openapi)));
    Schema of = registry.getSchema(SchemaLocation.of(id + "#/components/schemas/" + schema));
    return of.validate(json, InputFormat.JSON).stream().map(Object::toString).toList();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "courses Course",
        "models Model",
        "units Unit",
        "firmware Firmware",
        "sessions Session",
        "runs Run",
        "results Result",
        "runs/1/results Result",
        "due Due",
        "comparisons Comparison",
        "verdicts Verdict",
        "alerts Alert",
        "tracks/received ReceivedFile"
      })
  void aListIsAsTheDescriptionSaysFilledAndEmpty(String pathAndSchema) throws Exception {
    String path = "api/v1/" + pathAndSchema.split(" ")[0];
    String schema = pathAndSchema.split(" ")[1] + "List";
    if (!path.contains("runs/1")) {
      assertThat(get(path).body()).isEqualTo("{\"items\":[],\"nextCursor\":null}");
    }
    fill();
    HttpResponse<String> answer = get(path);
    assertThat(answer.statusCode()).isEqualTo(200);
    assertThat(errors(schema, answer.body())).isEmpty();
    if (!path.endsWith("verdicts")) assertThat(json(path).get("items")).isNotEmpty();
    golden(path.substring("api/v1/".length()).replace('/', '-'), answer.body());
  }

  /** Proves only that nothing changed; written anew with -Dgolden=write. */
  private static void golden(String name, String body) throws IOException {
    Path file = GOLDEN.resolve(name + ".golden.json");
    String pretty =
        String.join("\n", new JsonMapper().readTree(body).toPrettyString().lines().toList()) + "\n";
    if ("write".equals(System.getProperty("golden"))) Files.writeString(file, pretty);
    assertThat(pretty).as("-Dgolden=write writes it anew").isEqualTo(Files.readString(file));
  }

  @Test
  void theDescriptionRefusesAnAnswerWithAnUnknownField() throws Exception {
    assertThat(errors("ModelList", "{\"items\":[{\"id\":1}],\"nextCursor\":null}")).isNotEmpty();
    assertThat(errors("ModelList", "{\"items\":[],\"nextCursor\":null,\"more\":1}")).isNotEmpty();
  }

  @Test
  void everyAddressOfTheDescriptionIsServed() throws Exception {
    fill();
    JsonNode openapi = json("api/v1/openapi.json");
    assertThat(openapi.get("openapi").asText()).startsWith("3.1");
    for (Map.Entry<String, JsonNode> path : openapi.get("paths").properties()) {
      if (!path.getValue().has("get")) continue;
      String address =
          path.getKey()
              .replace("{slug}", "mill-meadow-loop")
              .replace("{id}", "999")
              .replace("{sha256}", "0".repeat(64));
      HttpResponse<String> answer = get("api/v1" + address);
      if (answer.statusCode() == 404)
        // An item that isn't there says so; an address that isn't served would be a bare 404.
        assertThat(answer.body()).as(address).containsPattern("There is no such|No file");
      else assertThat(answer.statusCode()).as(address).isEqualTo(200);
    }
  }

  @Test
  void pagesFollowOneAnotherByTheirCursor() throws Exception {
    fill();
    JsonNode first = json("api/v1/runs?limit=2");
    assertThat(first.get("items")).hasSize(2);
    JsonNode second = json("api/v1/runs?limit=2&cursor=" + first.get("nextCursor").asText());
    assertThat(second.get("items")).hasSize(1);
    assertThat(second.get("nextCursor").isNull()).isTrue();
    assertThat(second.get("items").get(0).get("id"))
        .isNotEqualTo(first.get("items").get(1).get("id"));
    JsonNode files = json("api/v1/tracks/received?limit=2");
    assertThat(
            json("api/v1/tracks/received?limit=2&cursor=" + files.get("nextCursor").asText())
                .get("items"))
        .hasSize(1);
    JsonNode results = json("api/v1/results?limit=2");
    assertThat(results.get("items")).hasSize(2);
    assertThat(
            json("api/v1/results?limit=2&cursor=" + results.get("nextCursor").asText())
                .get("nextCursor")
                .isNull())
        .isTrue();
  }

  @ParameterizedTest
  @ValueSource(strings = {"limit=0", "limit=501", "limit=x", "cursor=x", "cursor=ZnJvbTotMQ"})
  void aWrongLimitOrCursorIsAProblem(String query) throws Exception {
    HttpResponse<String> answer = get("api/v1/runs?" + query);
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(errors("Problem", answer.body())).isEmpty();
  }

  @Test
  void aTrackIsTakenInWithItsTagsAndCanBeFollowed() throws Exception {
    HttpResponse<String> answer = upload("unit", "fell-2-a", "firmware", "2.1.0");
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(202);
    assertThat(tagsTaken)
        .containsExactly(Map.of(TagName.UNIT, "fell-2-a", TagName.FIRMWARE, "2.1.0"));
    assertThat(errors("ReceivedFile", answer.body())).isEmpty();
    String location = answer.headers().firstValue("Location").orElseThrow();
    JsonNode file = json(location.substring(1));
    assertThat(file.get("state").asText()).isEqualTo("received");
    assertThat(file.get("path").asText()).isEqualTo("a.gpx");
  }

  @Test
  void theOriginalBytesComeBack() throws Exception {
    upload();
    String hash = Contents.sha256(TRACK);
    HttpResponse<byte[]> answer =
        client.send(
            HttpRequest.newBuilder(URI.create(server.address() + "api/v1/tracks/" + hash)).build(),
            BodyHandlers.ofByteArray());
    assertThat(answer.body()).isEqualTo(TRACK);
    assertThat(answer.headers().firstValue("Content-Disposition"))
        .contains("attachment; filename=\"a.gpx\"");
    assertThat(answer.headers().firstValue("Content-Type")).contains("application/octet-stream");
  }

  @ParameterizedTest
  @ValueSource(strings = {"gpx", "geojson"})
  void aRecordingComesBackInAnotherFormatOrItIsSaidWhyNot(String ending) throws Exception {
    upload();
    HttpResponse<String> none = get("api/v1/tracks/" + Contents.sha256(TRACK) + "/" + ending);
    assertThat(none.statusCode()).isEqualTo(404);
    assertThat(none.body()).contains("can't be read as a recording");
    byte[] table =
        "time,lat,lon\n2026-05-12T07:00:00Z,52.5,13.25\n".getBytes(StandardCharsets.UTF_8);
    database.write(tx -> receive(tx, "b.csv", table));
    HttpResponse<String> answer = get("api/v1/tracks/" + Contents.sha256(table) + "/" + ending);
    assertThat(answer.statusCode()).isEqualTo(200);
    assertThat(answer.body()).contains("52.5", "13.25", "2026-05-12T07:00:00Z");
    assertThat(answer.headers().firstValue("Content-Disposition"))
        .contains("attachment; filename=\"b.csv." + ending + "\"");
  }

  @Test
  void comparisonsOfAModelThatIsNotThereAreAProblemThatNamesIt() throws Exception {
    HttpResponse<String> none = get("/api/v1/comparisons?model=Nobody");
    assertThat(none.statusCode()).isEqualTo(404);
    assertThat(none.headers().firstValue("content-type")).contains("application/problem+json");
    assertThat(none.body()).contains("There is no model named Nobody");
  }

  @Test
  void anUnknownTagIsSaidAndNothingIsTaken() throws Exception {
    HttpResponse<String> answer = upload("colour", "red");
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(answer.body()).contains("There is no tag named colour.");
    assertThat(tagsTaken).isEmpty();
  }

  private HttpResponse<String> tag(String id, String body) throws Exception {
    return client.send(
        HttpRequest.newBuilder(
                URI.create(server.address() + "api/v1/tracks/received/" + id + "/tags"))
            .header("Content-Type", "application/json")
            .method("PATCH", BodyPublishers.ofString(body))
            .build(),
        BodyHandlers.ofString());
  }

  private Map<TagName, String> edits(FileId id) {
    Map<TagName, String> edits = new EnumMap<>(TagName.class);
    for (Tags.Tag tag : database.<List<Tags.Tag>>read(tx -> Tags.of(tx, id)))
      if (tag.source() == TagSource.EDIT) edits.put(tag.name(), tag.value());
    return edits;
  }

  @Test
  void tagsOfAFileThatCameInAreSetAndTakenBack() throws Exception {
    FileId id = database.write(tx -> receive(tx, "a.gpx", TRACK));
    String number = Long.toString(id.value());
    HttpResponse<String> answer = tag(number, "{\"unit\": \"K1\", \"laps\": 2, \"control\": true}");
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    assertThat(errors("ReceivedFile", answer.body())).isEmpty();
    assertThat(edits(id))
        .isEqualTo(Map.of(TagName.UNIT, "K1", TagName.LAPS, "2", TagName.CONTROL, "yes"));
    assertThat(measurings).isEqualTo(1);
    assertThat(tag(number, "{\"laps\": null}").statusCode()).isEqualTo(200);
    assertThat(edits(id)).doesNotContainKey(TagName.LAPS).containsEntry(TagName.UNIT, "K1");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "{\"colour\": \"red\"} | There is no tag named colour.",
        "{\"gait\": \"hop\"} | Write walk, run or ride.",
        "{\"unit\": [1]} | is no text or number",
        "{} | at least one tag",
        "[] | at least one tag",
        "unit=K1 | no JSON"
      })
  void tagsThatCantBeTakenAreSaidAndNothingIsKept(String body, String says) throws Exception {
    FileId id = database.write(tx -> receive(tx, "a.gpx", TRACK));
    HttpResponse<String> answer = tag(Long.toString(id.value()), body);
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(errors("Problem", answer.body())).isEmpty();
    assertThat(answer.body()).contains(says);
    assertThat(edits(id)).isEmpty();
  }

  @Test
  void tagsOfACopyBelongToTheFirstAndThoseOfNothingNowhere() throws Exception {
    FileId first = database.write(tx -> receive(tx, "a.gpx", TRACK));
    FileId copy =
        database.write(
            tx ->
                ReceivedFiles.duplicate(
                    tx,
                    Batches.current(tx),
                    "b.gpx",
                    Contents.sha256(TRACK),
                    ReceivedFiles.Kind.TRACK,
                    first));
    HttpResponse<String> answer = tag(Long.toString(copy.value()), "{\"unit\": \"K1\"}");
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(answer.body()).contains("came before, as number " + first.value());
    assertThat(tag("999", "{\"unit\": \"K1\"}").statusCode()).isEqualTo(404);
  }

  private HttpResponse<String> upload(String... fields) throws IOException, InterruptedException {
    StringBuilder body = new StringBuilder();
    for (int i = 0; i < fields.length; i += 2)
      body.append("--b\r\nContent-Disposition: form-data; name=\"")
          .append(fields[i])
          .append("\"\r\n\r\n")
          .append(fields[i + 1])
          .append("\r\n");
    body.append(
            "--b\r\nContent-Disposition: form-data; name=\"file\"; filename=\"x/a.gpx\"\r\n\r\n")
        .append(new String(TRACK, StandardCharsets.UTF_8))
        .append("\r\n--b--\r\n");
    return client.send(
        HttpRequest.newBuilder(URI.create(server.address() + "api/v1/tracks"))
            .header("Content-Type", "multipart/form-data; boundary=b")
            .POST(BodyPublishers.ofString(body.toString()))
            .build(),
        BodyHandlers.ofString());
  }

  @Test
  void healthIsReadyOrSaysWhyNot() throws Exception {
    assertThat(get("health").body()).isEqualTo("{\"status\":\"ready\",\"reasons\":[]}");
    troubles.add("The inbox can't be read.");
    HttpResponse<String> answer = get("health");
    assertThat(answer.statusCode()).isEqualTo(503);
    assertThat(errors("Health", answer.body())).isEmpty();
    assertThat(answer.body()).contains("The inbox can't be read.");
    for (int i = 0; i < 10_000; i++) troubles.add(i + " can't be moved.");
    assertThat(get("health").body()).contains("And 9981 more.").hasSizeLessThan(2_000);
  }

  @Test
  void metricsTellTheLengthsOfTheQueues() throws Exception {
    fill();
    assertThat(get("metrics").body())
        .contains("milewarden_files_measured 3.0")
        .contains("milewarden_messages_queued 1.0")
        .contains("milewarden_due_open 2.0");
  }

  @Test
  void metricsTellHowLongTheFirstInEachQueueHasWaitedByTheClock() throws Exception {
    assertThat(metrics())
        .containsEntry("milewarden_oldest_files_received_seconds", 0.0)
        .containsEntry("milewarden_oldest_messages_queued_seconds", 0.0);
    // Nothing is measured, judged or sent here: what comes in stays in its queue.
    queueAll(1);
    now = NOW.plusSeconds(90);
    assertThat(metrics()).containsAllEntriesOf(queues(1, 90));
    queueAll(2);
    now = NOW.plusSeconds(3600);
    // More of them, and still the first is asked about.
    assertThat(metrics()).containsAllEntriesOf(queues(2, 3600));
    // A clock that was set back makes no age below nothing.
    now = NOW.minusSeconds(5);
    assertThat(metrics()).containsAllEntriesOf(queues(2, 0));
  }

  /** One more in every queue. */
  private void queueAll(int i) {
    database.change(
        tx -> {
          receive(tx, "in/" + i + ".gpx", ("<gpx/>" + i).getBytes(StandardCharsets.UTF_8));
          FileId waits =
              receive(tx, "wait/" + i + ".gpx", ("<kml/>" + i).getBytes(StandardCharsets.UTF_8));
          FileQueue.waiting(
              tx,
              waits,
              List.of(TagName.FIRMWARE),
              new ReceivedFiles.Reason("missing-tags", "", "The firmware is missing."));
          Marks.mark(tx, Models.unit(tx, "fell-" + i, "Fell " + i).model());
          Outbox.queue(
              tx, "m" + i + "@milewarden", Optional.empty(), "worse", "t", "h", Optional.empty());
        });
  }

  private static Map<String, Double> queues(double length, double age) {
    return Map.of(
        "milewarden_files_received", length,
        "milewarden_files_waiting", length,
        "milewarden_models_to_judge", length,
        "milewarden_messages_queued", length,
        "milewarden_oldest_files_received_seconds", age,
        "milewarden_oldest_files_waiting_seconds", age,
        "milewarden_oldest_models_to_judge_seconds", age,
        "milewarden_oldest_messages_queued_seconds", age);
  }

  /** The lines of the exposition format that are no comments: a name, a blank, a number. */
  private Map<String, Double> metrics() throws Exception {
    HttpResponse<String> answer = get("metrics");
    assertThat(answer.headers().firstValue("Content-Type"))
        .hasValueSatisfying(t -> assertThat(t).startsWith("text/plain; version=0.0.4"));
    Map<String, Double> found = new HashMap<>();
    for (String line : answer.body().split("\n")) {
      if (line.startsWith("#")) continue;
      String[] parts = line.split(" ");
      found.put(parts[0], Double.valueOf(parts[1]));
    }
    return found;
  }
}
