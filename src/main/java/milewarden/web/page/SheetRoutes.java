package milewarden.web.page;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import io.javalin.http.HttpStatus;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import milewarden.intake.typed.SheetTable;
import milewarden.intake.typed.TypedReadings;
import milewarden.report.page.Links;
import milewarden.report.page.outing.SheetPage;
import milewarden.review.outing.NextSheet;
import milewarden.store.Id.ModelId;
import milewarden.store.Tx;
import milewarden.store.file.SheetRows;
import milewarden.store.run.Models;
import milewarden.track.TagName;
import milewarden.web.Frame;
import milewarden.web.Routes;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** The field sheet of a session: shown, printed, as a table, and filled in at the mark. */
final class SheetRoutes implements Routes {
  private static final Pattern FIELD = Pattern.compile("row\\.(\\d{1,4})\\.([a-z_]+)");
  private static final String WORKER = "/milewarden/assets/sheet-worker.js";
  private static final String JSON = "application/json";

  private final Desk desk;
  private final TypedReadings readings;

  SheetRoutes(Desk desk) {
    this.desk = desk;
    this.readings = new TypedReadings(desk.database(), desk.upload());
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get("/models/{id}/sheet", this::sheet);
    config.routes.post("/models/{id}/sheet", this::take);
    config.routes.get("/models/{id}/sheet.csv", this::csv);
    // A worker serves only what lies below its own address.
    config.routes.get("/models/{id}/sheet-worker.js", SheetRoutes::worker);
  }

  private void sheet(Context http) {
    String sent =
        Sent.parse(Sent.text(http, "sent"))
            .map(
                n ->
                    desk.digits().counted(n, "reading")
                        + (n == 1 ? " is" : " are")
                        + " in the store.")
            .orElse("");
    show(http, Map.of(), List.of(), sent);
  }

  /**
   * @param typed what was typed and not taken, by row
   */
  private void show(
      Context http, Map<Integer, Map<TagName, String>> typed, List<String> problems, String sent) {
    SheetPage page =
        desk.database()
            .read(
                tx -> {
                  LocalDate date = day(tx, http);
                  NextSheet.Sheet sheet = next(tx, http, date);
                  List<SheetPage.Given> lines = new ArrayList<>();
                  for (NextSheet.Line line : sheet.lines())
                    lines.add(given(line, typed.getOrDefault(lines.size(), Map.of())));
                  return SheetPage.of(
                      new SheetPage.Head(
                          sheet.model().value(),
                          sheet.modelName(),
                          sheet.session(),
                          date,
                          sheet.begun(),
                          sheet.others()),
                      lines,
                      problems,
                      sent,
                      desk.digits());
                });
    desk.renderer().show(http, "sheet", Frame.of(page.model() + ", field sheet", "/due"), page);
  }

  private LocalDate day(Tx tx, Context http) {
    String said = Sent.text(http, "date");
    return Stream.of(said)
        .filter(t -> t.matches("\\d{4}-\\d{2}-\\d{2}"))
        .map(LocalDate::parse)
        .findFirst()
        .orElseGet(() -> desk.digits().day(tx.now()));
  }

  private static NextSheet.Sheet next(Tx tx, Context http, LocalDate date) {
    ModelId id = new ModelId(Sent.part(http, "id"));
    Models.Model model = Models.find(tx, id).orElseThrow(() -> Sent.missing("model"));
    String session = Sent.text(http, "session");
    return NextSheet.of(
        tx,
        model,
        new NextSheet.Wish(
            Sent.parse(Sent.text(http, "item")),
            Optional.of(session).filter(s -> !s.isEmpty()),
            date,
            http.queryParams("along")));
  }

  private SheetPage.Given given(NextSheet.Line line, Map<TagName, String> typed) {
    Map<TagName, String> tags = new EnumMap<>(TagName.class);
    tags.putAll(line.tags());
    tags.putAll(typed);
    Optional<SheetRows.SheetRow> kept = line.kept();
    String asTyped =
        typed.containsKey(TagName.SHOWN)
            ? typed.getOrDefault(TagName.SHOWN, "")
            : kept.map(k -> k.words().extra().getOrDefault(TypedReadings.AS_TYPED, "")).orElse("");
    return new SheetPage.Given(
        tags,
        asTyped,
        kept.map(k -> desk.digits().moment(k.receivedAt())),
        kept.map(SheetRows.SheetRow::missing).orElse(List.of()));
  }

  private void csv(Context http) {
    boolean comma = Sent.text(http, "decimals").equals("comma");
    NextSheet.Sheet sheet = desk.database().read(tx -> next(tx, http, day(tx, http)));
    // Not the session's name: two sheets of that name in one folder would be one to the inbox.
    http.contentType("text/csv; charset=utf-8")
        .header("Content-Disposition", "attachment; filename=\"session.csv\"")
        .result(SheetTable.of(sheet.rows(), comma));
  }

  private static void worker(Context http) {
    try (InputStream in = SheetRoutes.class.getResourceAsStream(WORKER)) {
      if (in == null) throw new IllegalStateException(WORKER + " is not in the program");
      http.contentType("text/javascript; charset=utf-8")
          .header("Cache-Control", "no-cache")
          .result(in.readAllBytes());
    } catch (IOException e) {
      throw new UncheckedIOException(WORKER, e);
    }
  }

  private void take(Context http) {
    ModelId id = new ModelId(Sent.part(http, "id"));
    if (desk.database().read(tx -> Models.find(tx, id)).isEmpty()) throw Sent.missing("model");
    List<TypedReadings.Typed> typed = typed(http);
    TypedReadings.Taken taken = readings.take(typed);
    String accept = http.header("Accept");
    if (accept != null && accept.contains(JSON)) {
      http.contentType(JSON).result(desk.renderer().json(taken));
    } else if (taken.wrong().isEmpty()) {
      http.redirect(
          Links.sheet(id.value(), Sent.text(http, "session")) + "&sent=" + taken.kept().size(),
          HttpStatus.SEE_OTHER);
    } else {
      Map<Integer, Map<TagName, String>> again = new TreeMap<>();
      for (TypedReadings.Typed each : typed) again.put(each.number(), each.tags());
      show(http, again, taken.wrong().stream().map(w -> problem(w, again)).toList(), "");
    }
  }

  private static String problem(
      TypedReadings.Wrong wrong, Map<Integer, Map<TagName, String>> typed) {
    Map<TagName, String> tags = typed.getOrDefault(wrong.number(), Map.of());
    return "Pass "
        + tags.getOrDefault(TagName.PASS, "")
        + ", unit "
        + tags.getOrDefault(TagName.UNIT, "")
        + ": "
        + wrong.sentence();
  }

  /** The rows of the form: what stands in each, in its pass, and over the whole sheet. */
  private static List<TypedReadings.Typed> typed(Context http) {
    Map<Integer, Map<TagName, String>> rows = new TreeMap<>();
    Map<Integer, String> typedAt = new TreeMap<>();
    http.formParamMap()
        .forEach(
            (name, values) -> {
              Matcher m = FIELD.matcher(name);
              if (!m.matches() || values.isEmpty()) return;
              int row = Integer.parseInt(m.group(1));
              String value = values.get(0).strip();
              if (m.group(2).equals(TypedReadings.TYPED_AT)) typedAt.put(row, value);
              TagName.of(m.group(2))
                  .ifPresent(
                      tag ->
                          rows.computeIfAbsent(row, r -> new EnumMap<>(TagName.class))
                              .put(tag, value));
            });
    List<TypedReadings.Typed> typed = new ArrayList<>();
    rows.forEach(
        (row, tags) -> {
          for (TagName name :
              List.of(
                  TagName.SESSION, TagName.DATE, TagName.OPERATOR, TagName.LAPS, TagName.WEATHER))
            said(http, name.code(), tags, name);
          ofPass(http, tags);
          typed.add(new TypedReadings.Typed(row, tags, typedAt.getOrDefault(row, "")));
        });
    return typed;
  }

  private static void ofPass(Context http, Map<TagName, String> tags) {
    String pass = "pass." + tags.getOrDefault(TagName.PASS, "") + ".";
    said(http, pass + "time", tags, TagName.TIME);
    said(http, pass + "standing_s", tags, TagName.STANDING_S);
    if (tags.getOrDefault(TagName.EXCLUDED_REASON, "").isEmpty())
      said(http, pass + "excluded_reason", tags, TagName.EXCLUDED_REASON);
    StringBuilder notes = new StringBuilder(tags.getOrDefault(TagName.NOTES, ""));
    for (String happened : http.formParams(pass + "happened"))
      if (notes.indexOf(happened) < 0)
        notes.append(notes.length() == 0 ? "" : "; ").append(happened);
    tags.put(TagName.NOTES, notes.toString());
  }

  private static void said(Context http, String field, Map<TagName, String> tags, TagName name) {
    String said = Sent.text(http, field);
    if (!said.isEmpty()) tags.put(name, said);
  }
}
