package milewarden.web.api;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import io.javalin.config.JavalinConfig;
import io.javalin.http.BadRequestResponse;
import io.javalin.http.Context;
import io.javalin.http.NotFoundResponse;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.format.DateTimeParseException;
import java.util.List;
import java.util.Optional;
import milewarden.review.tell.AlertHandling;
import milewarden.store.Database;
import milewarden.store.Id.DueId;
import milewarden.store.Id.MessageId;
import milewarden.store.judged.DueItems;
import milewarden.store.told.Outbox;
import milewarden.web.Visitor;

/** Acknowledges alerts, puts them off, sends them again. */
final class Handling {
  private static final JsonMapper JSON = new JsonMapper();

  private final Database database;
  private final AlertHandling handling;

  Handling(Database database) {
    this.database = database;
    this.handling = new AlertHandling(database);
  }

  void add(JavalinConfig config, String under) {
    var routes = config.routes;
    routes.get(under + "/due/{id}/handling", http -> answer(http, List.of(due(http))));
    routes.post(under + "/due/{id}/acknowledge", http -> acknowledge(http, List.of(due(http))));
    routes.post(under + "/due/{id}/snooze", http -> snooze(http, List.of(due(http))));
    routes.get(under + "/alerts/{id}", http -> alert(http, message(http)));
    routes.post(under + "/alerts/{id}/acknowledge", http -> acknowledge(http, items(http)));
    routes.post(under + "/alerts/{id}/snooze", http -> snooze(http, items(http)));
    routes.post(under + "/alerts/{id}/again", this::again);
  }

  /** What was done about one due item. */
  record HandlingRow(
      String dueId,
      boolean open,
      Optional<Instant> acknowledgedAt,
      Optional<String> acknowledgedBy,
      Optional<Instant> snoozedUntil) {
    static HandlingRow of(DueItems.Due d) {
      return new HandlingRow(
          Long.toString(d.id().value()),
          d.closed().isEmpty(),
          d.seen().map(DueItems.Seen::at),
          d.seen().map(DueItems.Seen::by),
          d.snoozedUntil());
    }
  }

  private DueId due(Context http) {
    DueId id = new DueId(Ids.of(http, "id"));
    if (database.read(tx -> DueItems.find(tx, id)).isEmpty())
      throw new NotFoundResponse("There is no such due item.");
    return id;
  }

  private Outbox.Message message(Context http) {
    MessageId id = new MessageId(Ids.of(http, "id"));
    return database
        .read(tx -> Outbox.find(tx, id))
        .orElseThrow(() -> new NotFoundResponse("There is no such alert."));
  }

  private List<DueId> items(Context http) {
    MessageId id = message(http).id();
    return database.read(tx -> Outbox.items(tx, id));
  }

  private void acknowledge(Context http, List<DueId> items) {
    JsonNode body = body(http);
    refuse(handling.acknowledge(items, by(http, body), text(body, "words")));
    answer(http, items);
  }

  private void snooze(Context http, List<DueId> items) {
    JsonNode body = body(http);
    refuse(handling.snooze(items, until(body), by(http, body), text(body, "words")));
    answer(http, items);
  }

  private void again(Context http) {
    MessageId id = message(http).id();
    database.change(tx -> Outbox.again(tx, id));
    http.status(202);
    alert(http, message(http));
  }

  private void alert(Context http, Outbox.Message message) {
    Answers.json(
        http, database.read(tx -> SaidRows.AlertRow.of(message, Outbox.items(tx, message.id()))));
  }

  private void answer(Context http, List<DueId> items) {
    List<HandlingRow> rows =
        database.read(
            tx ->
                items.stream()
                    .flatMap(i -> DueItems.find(tx, i).stream())
                    .map(HandlingRow::of)
                    .toList());
    Answers.json(http, new Listing<>(rows, Optional.empty()));
  }

  private static void refuse(Optional<String> sentence) {
    if (sentence.isPresent()) throw new BadRequestResponse(sentence.get());
  }

  private static JsonNode body(Context http) {
    try {
      JsonNode body = JSON.readTree(http.bodyAsBytes());
      if (body == null || !body.isObject())
        throw new BadRequestResponse("The body is to be a JSON object with `by`.");
      return body;
    } catch (com.fasterxml.jackson.core.JsonProcessingException e) {
      throw new BadRequestResponse("The JSON is malformed: " + e.getOriginalMessage() + ".");
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static String text(JsonNode body, String name) {
    JsonNode value = body.get(name);
    if (value == null || value.isNull()) return "";
    if (!value.isTextual()) throw new BadRequestResponse("`" + name + "` is to be a text.");
    return value.textValue().strip();
  }

  /** The name in the body; where there is none, that of the person or the token. */
  private static String by(Context http, JsonNode body) {
    String said = text(body, "by");
    return said.isEmpty() ? Visitor.of(http).actor().name() : said;
  }

  private static Instant until(JsonNode body) {
    try {
      return OffsetDateTime.parse(text(body, "until")).toInstant();
    } catch (DateTimeParseException e) {
      throw new BadRequestResponse(
          "`until` is to be a moment as RFC 3339 writes it: 2026-05-12T07:00:00Z.");
    }
  }
}
