package milewarden.store.file;

import java.time.Instant;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;
import milewarden.store.Id.FileId;
import milewarden.store.Id.SheetRowId;
import milewarden.store.Json;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.track.TagName;

/** The rows of the field sheets with all their revisions. */
public final class SheetRows {
  private static final String COLUMNS =
      """
      id, session, unit, pass, revision, sheet_file_id, row_number, file_path, tags, extra,
      missing, received_at
      """;
  private static final String CURRENT =
      "select "
          + COLUMNS
          + """
           from sheet_row
          where session = :session and unit = :unit and pass = :pass and is_current""";
  private static final String AT_PATH =
      "select "
          + COLUMNS
          + " from sheet_row where file_path = :path and is_current order by pass, id";
  private static final String AT_PATHS =
      "select "
          + COLUMNS
          + " from sheet_row where file_path in (<paths>) and is_current order by pass, id";
  private static final String WITHOUT_FILE =
      "select " + COLUMNS + " from sheet_row where file_path = '' and is_current order by id";
  private static final String OF_SHEET =
      "select " + COLUMNS + " from sheet_row where sheet_file_id = :sheet order by row_number, id";
  private static final String OF_SESSION =
      "select "
          + COLUMNS
          + " from sheet_row where session = :session and is_current order by pass, unit, id";
  private static final String RETIRE =
      """
      update sheet_row set is_current = false where id = :id""";
  private static final String ADD =
      """
      insert into sheet_row (session, unit, pass, revision, is_current, sheet_file_id, row_number,
                             file_path, tags, extra, received_at)
      values (:session, :unit, :pass, :revision, true, :sheet, :row, :path, :tags, :extra, :now)
      returning id""";
  private static final String MISSING =
      """
      update sheet_row set missing = :missing where id = :id""";

  private SheetRows() {}

  /** By what a row is known. */
  public record Key(String session, String unit, String pass) {}

  /**
   * What a sheet says in one row.
   *
   * @param path of the track in the inbox; empty for a run with a shown distance alone
   * @param extra columns that we don't know, kept and shown
   */
  public record Words(
      Key key,
      FileId sheet,
      int rowNumber,
      String path,
      Map<TagName, String> tags,
      Map<String, String> extra) {
    public Words {
      tags = Map.copyOf(tags);
      extra = Map.copyOf(extra);
    }
  }

  /** A row as it stands. */
  public record SheetRow(
      SheetRowId id, Words words, int revision, List<TagName> missing, Instant receivedAt) {
    public SheetRow {
      missing = List.copyOf(missing);
    }
  }

  /**
   * A row that was read: kept as the newest revision, or found unchanged.
   *
   * @param changed false where the same row with the same words was there
   * @param before the revision that it replaced
   */
  public record Taken(SheetRow row, boolean changed, Optional<SheetRow> before) {}

  /** Takes a row in; a row of the same key is revised, unless it says the same. */
  public static Taken take(Tx tx, Words words) {
    Optional<SheetRow> before = find(tx, words.key());
    if (before.isPresent() && same(before.get().words(), words))
      return new Taken(before.get(), false, before);
    before.ifPresent(row -> tx.update(RETIRE).bind("id", row.id()).execute());
    int revision = before.map(row -> row.revision() + 1).orElse(1);
    Map<String, String> tags = new TreeMap<>();
    words.tags().forEach((name, value) -> tags.put(name.code(), value));
    SheetRowId id =
        tx.inserting(ADD)
            .bind("session", words.key().session())
            .bind("unit", words.key().unit())
            .bind("pass", words.key().pass())
            .bind("revision", revision)
            .bind("sheet", words.sheet())
            .bind("row", words.rowNumber())
            .bind("path", words.path())
            .bind("tags", Json.write(tags))
            .bind("extra", Json.write(new TreeMap<>(words.extra())))
            .bind("now", tx.now())
            .map(Row.as(r -> new SheetRowId(r.number("id"))))
            .one();
    return new Taken(new SheetRow(id, words, revision, List.of(), tx.now()), true, before);
  }

  private static boolean same(Words a, Words b) {
    return a.path().equals(b.path()) && a.tags().equals(b.tags()) && a.extra().equals(b.extra());
  }

  public static Optional<SheetRow> find(Tx tx, Key key) {
    return tx.query(CURRENT)
        .bind("session", key.session())
        .bind("unit", key.unit())
        .bind("pass", key.pass())
        .map(Row.as(SheetRows::read))
        .findOne();
  }

  /** The rows in force of a session, by pass and unit. */
  public static List<SheetRow> ofSession(Tx tx, String session) {
    return tx.query(OF_SESSION).bind("session", session).map(Row.as(SheetRows::read)).list();
  }

  /** The rows in force about the track at this path of the inbox, in order of pass. */
  public static List<SheetRow> atPath(Tx tx, String path) {
    return tx.query(AT_PATH).bind("path", path).map(Row.as(SheetRows::read)).list();
  }

  /** The same of several paths, each in order of pass; those of no row are left out. */
  public static Map<String, List<SheetRow>> atPaths(Tx tx, List<String> paths) {
    if (paths.isEmpty()) return Map.of();
    return tx.query(AT_PATHS).bindList("paths", paths).map(Row.as(SheetRows::read)).list().stream()
        .collect(Collectors.groupingBy(row -> row.words().path()));
  }

  /** The rows in force that name no track, oldest first. */
  public static List<SheetRow> withoutFile(Tx tx) {
    return tx.query(WITHOUT_FILE).map(Row.as(SheetRows::read)).list();
  }

  /** The rows that came in by this sheet, in its order, also those revised since. */
  public static List<SheetRow> ofSheet(Tx tx, FileId sheet) {
    return tx.query(OF_SHEET).bind("sheet", sheet).map(Row.as(SheetRows::read)).list();
  }

  /** Says what a row without a track still needs; nothing where it is complete. */
  public static void missing(Tx tx, SheetRowId id, List<TagName> missing) {
    tx.update(MISSING).bind("id", id).bind("missing", ReceivedFiles.join(missing)).execute();
  }

  private static SheetRow read(Row r) throws java.sql.SQLException {
    Map<TagName, String> tags = new EnumMap<>(TagName.class);
    Json.readTexts(r.text("tags"))
        .forEach((name, value) -> tags.put(TagName.of(name).orElseThrow(), value));
    Words words =
        new Words(
            new Key(r.text("session"), r.text("unit"), r.text("pass")),
            new FileId(r.number("sheet_file_id")),
            r.count("row_number"),
            r.text("file_path"),
            tags,
            Json.readTexts(r.text("extra")));
    return new SheetRow(
        new SheetRowId(r.number("id")),
        words,
        r.count("revision"),
        ReceivedFiles.split(r.text("missing")),
        r.instant("received_at"));
  }
}
