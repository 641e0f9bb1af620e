package milewarden.store.run;

import java.time.Instant;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.store.Id.FileId;
import milewarden.store.Id.FirmwareId;
import milewarden.store.Id.ModelId;
import milewarden.store.Id.RunId;
import milewarden.store.Id.SessionId;
import milewarden.store.Id.UnitId;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.store.file.SheetRows;
import org.jdbi.v3.core.statement.Query;

/** Runs: one recording of one unit, or a shown distance without a recording. */
public final class Runs {
  private static final String COLUMNS =
      """
      select r.id, r.file_id, r.row_session, r.row_unit, r.row_pass, r.session_id,
             s.name as session_name, s.local_date, r.unit_id, u.name as unit_name, u.control,
             m.id as model_id, m.name as model_name, r.firmware_id, f.version as firmware,
             r.course_slug, r.carriage, r.gait, r.settings, r.started_at, r.ended_at, r.operator,
             r.notes, r.held_for, r.added_at, r.changed_at
        from run r
        join session s on s.id = r.session_id
        join unit u on u.id = r.unit_id
        join model m on m.id = u.model_id
        join firmware f on f.id = r.firmware_id
      """;
  private static final String BY_ID = COLUMNS + " where r.id = :id";
  private static final String BY_FILE = COLUMNS + " where r.file_id = :file";
  private static final String BY_FILES = COLUMNS + " where r.file_id in (<files>)";
  private static final String FILES_OF_MODEL =
      """
      select id, file_id from run
       where file_id is not null
         and unit_id in (select id from unit where model_id = :model)""";
  private static final String BY_ROW =
      COLUMNS + " where r.row_session = :session and r.row_unit = :unit and r.row_pass = :pass";
  private static final String OF_SESSION =
      COLUMNS + " where r.session_id = :session order by r.started_at, u.name, r.id";
  private static final String OF_MODEL =
      COLUMNS
          + """
           where u.model_id = :model
           order by r.started_at desc, r.id desc limit :limit offset :offset
      """;
  private static final String OF_COURSE =
      COLUMNS
          + """
           where r.course_slug = :course
           order by r.started_at desc, r.id desc limit :limit offset :offset""";
  private static final String PAGE =
      COLUMNS + " order by r.started_at desc, r.id desc limit :limit offset :offset";
  private static final String OVERLAPPING =
      COLUMNS
          + """
           where r.unit_id = :unit and r.started_at < :end and r.ended_at > :start
           order by r.started_at, r.id""";
  private static final String OVERLAPPED =
      """
      select exists (select 1 from run
                      where unit_id = :unit and started_at < :end and ended_at > :start
                        and id <> :but) as there""";
  private static final String IN_SESSION_BETWEEN =
      """
      select exists (select 1 from run
                      where session_id = :session and file_id is not null
                        and started_at <= :to and coalesce(ended_at, started_at) >= :from) as there""";
  private static final String ADD =
      """
      insert into run (file_id, row_session, row_unit, row_pass, session_id, unit_id, firmware_id,
                       course_slug, carriage, gait, settings, started_at, ended_at, operator, notes,
                       added_at, changed_at)
      values (:file, :rowSession, :rowUnit, :rowPass, :session, :unit, :firmware, :course,
              :carriage, :gait, :settings, :start, :end, :operator, :notes, :now, :now)
      returning id""";
  private static final String CHANGE =
      """
      update run
         set session_id = :session, unit_id = :unit, firmware_id = :firmware,
             course_slug = :course, carriage = :carriage, gait = :gait, settings = :settings,
             started_at = :start, ended_at = :end, operator = :operator, notes = :notes,
             changed_at = :now
       where id = :id""";
  private static final String HOLD =
      """
      update run set held_for = :of where id = :id""";
  private static final String COUNT =
      """
      select count(*) as runs from run""";

  private Runs() {}

  /**
   * What the settled tags say of a run.
   *
   * @param settings the settings profile as one text; may be empty
   * @param startedAt of the recording, or of the row of the field sheet
   */
  public record Facts(
      SessionId session,
      UnitId unit,
      FirmwareId firmware,
      String course,
      Carriage carriage,
      Gait gait,
      String settings,
      Instant startedAt,
      Optional<Instant> endedAt,
      Optional<String> operator,
      Optional<String> notes) {}

  /**
   * A run with the names that belong to it.
   *
   * @param file empty for a run with a shown distance alone
   * @param row the field sheet's row of a run without a recording
   * @param heldFor the run that is perhaps the same recording; a held run counts nowhere
   */
  public record Run(
      RunId id,
      Optional<FileId> file,
      Optional<SheetRows.Key> row,
      Facts facts,
      String sessionName,
      LocalDate date,
      String unitName,
      boolean control,
      ModelId model,
      String modelName,
      String firmware,
      Optional<RunId> heldFor,
      Instant addedAt,
      Instant changedAt) {}

  /** The run of a recording: made, or changed to these facts. */
  public static RunId ofFile(Tx tx, FileId file, Facts facts) {
    return ofFile(tx, file, findOfFile(tx, file).map(Run::id), facts);
  }

  /**
   * As {@link #ofFile(Tx, FileId, Facts)}.
   *
   * @param known its run, where it has one
   */
  public static RunId ofFile(Tx tx, FileId file, Optional<RunId> known, Facts facts) {
    return known.isPresent()
        ? change(tx, known.get(), facts)
        : add(tx, Optional.of(file), Optional.empty(), facts);
  }

  /** The run of a field sheet's row without a recording: made, or changed to these facts. */
  public static RunId ofRow(Tx tx, SheetRows.Key row, Facts facts) {
    Optional<Run> known = findOfRow(tx, row);
    return known.isPresent()
        ? change(tx, known.get().id(), facts)
        : add(tx, Optional.empty(), Optional.of(row), facts);
  }

  public static Optional<Run> find(Tx tx, RunId id) {
    return tx.query(BY_ID).bind("id", id).map(Row.as(Runs::read)).findOne();
  }

  public static Optional<Run> findOfFile(Tx tx, FileId file) {
    return tx.query(BY_FILE).bind("file", file).map(Row.as(Runs::read)).findOne();
  }

  /** The recordings of a model's runs; a run without one is left out. */
  public static Map<RunId, FileId> filesOfModel(Tx tx, ModelId model) {
    Map<RunId, FileId> files = new HashMap<>();
    tx.query(FILES_OF_MODEL)
        .bind("model", model)
        .map(Row.as(r -> files.put(new RunId(r.number("id")), new FileId(r.number("file_id")))))
        .list();
    return files;
  }

  /** The runs of these files; one that is no run is left out. */
  public static Map<FileId, Run> ofFiles(Tx tx, List<FileId> files) {
    Map<FileId, Run> runs = new HashMap<>();
    if (!files.isEmpty())
      tx.query(BY_FILES)
          .bindList("files", files)
          .map(Row.as(Runs::read))
          .list()
          .forEach(run -> runs.put(run.file().orElseThrow(), run));
    return runs;
  }

  public static Optional<Run> findOfRow(Tx tx, SheetRows.Key row) {
    return tx.query(BY_ROW)
        .bind("session", row.session())
        .bind("unit", row.unit())
        .bind("pass", row.pass())
        .map(Row.as(Runs::read))
        .findOne();
  }

  /** All runs of an outing by start. */
  public static List<Run> ofSession(Tx tx, SessionId session) {
    return tx.query(OF_SESSION).bind("session", session).map(Row.as(Runs::read)).list();
  }

  /** A model's runs, the latest first. */
  public static List<Run> ofModel(Tx tx, ModelId model, int limit, int offset) {
    return page(tx.query(OF_MODEL).bind("model", model), limit, offset);
  }

  /** The runs on a course, the latest first. */
  public static List<Run> ofCourse(Tx tx, String slug, int limit, int offset) {
    return page(tx.query(OF_COURSE).bind("course", slug), limit, offset);
  }

  /** All runs, the latest first. */
  public static List<Run> page(Tx tx, int limit, int offset) {
    return page(tx.query(PAGE), limit, offset);
  }

  private static List<Run> page(Query query, int limit, int offset) {
    return query.bind("limit", limit).bind("offset", offset).map(Row.as(Runs::read)).list();
  }

  /** The unit's runs that share some time with this one. */
  public static List<Run> overlapping(Tx tx, UnitId unit, Instant start, Instant end) {
    return tx.query(OVERLAPPING)
        .bind("unit", unit)
        .bind("start", start)
        .bind("end", end)
        .map(Row.as(Runs::read))
        .list();
  }

  /**
   * Whether {@link #overlapping} has any run but one: asked first, because nearly none has, and the
   * runs with all their names cost several times as much to ask for.
   */
  public static boolean isOverlapped(Tx tx, UnitId unit, Instant start, Instant end, RunId butFor) {
    return tx.query(OVERLAPPED)
        .bind("unit", unit)
        .bind("start", start)
        .bind("end", end)
        .bind("but", butFor)
        .map(Row.as(r -> r.flag("there")))
        .one();
  }

  /** Whether a recording of the session lies, in part at least, between two times. */
  public static boolean isInSessionBetween(Tx tx, SessionId session, Instant from, Instant to) {
    return tx.query(IN_SESSION_BETWEEN)
        .bind("session", session)
        .bind("from", from)
        .bind("to", to)
        .map(Row.as(r -> r.flag("there")))
        .one();
  }

  /** Holds a run as perhaps the same recording as another, or lets it count. */
  public static void hold(Tx tx, RunId id, Optional<RunId> of) {
    tx.update(HOLD).bind("id", id).bind("of", of).execute();
  }

  public static int count(Tx tx) {
    return tx.query(COUNT).map(Row.as(r -> r.count("runs"))).one();
  }

  private static RunId add(Tx tx, Optional<FileId> file, Optional<SheetRows.Key> row, Facts facts) {
    Query insert =
        tx.inserting(ADD)
            .bind("file", file)
            .bind("rowSession", row.map(SheetRows.Key::session))
            .bind("rowUnit", row.map(SheetRows.Key::unit))
            .bind("rowPass", row.map(SheetRows.Key::pass));
    return facts(insert, facts)
        .bind("now", tx.now())
        .map(Row.as(r -> new RunId(r.number("id"))))
        .one();
  }

  private static RunId change(Tx tx, RunId id, Facts facts) {
    facts(tx.update(CHANGE).bind("id", id), facts).bind("now", tx.now()).execute();
    return id;
  }

  private static <S extends org.jdbi.v3.core.statement.SqlStatement<S>> S facts(S sql, Facts f) {
    return sql.bind("session", f.session())
        .bind("unit", f.unit())
        .bind("firmware", f.firmware())
        .bind("course", f.course())
        .bind("carriage", f.carriage())
        .bind("gait", f.gait())
        .bind("settings", f.settings())
        .bind("start", f.startedAt())
        .bind("end", f.endedAt())
        .bind("operator", f.operator())
        .bind("notes", f.notes());
  }

  private static Run read(Row r) throws java.sql.SQLException {
    Facts facts =
        new Facts(
            new SessionId(r.number("session_id")),
            new UnitId(r.number("unit_id")),
            new FirmwareId(r.number("firmware_id")),
            r.text("course_slug"),
            r.choice("carriage", Carriage.class),
            r.choice("gait", Gait.class),
            r.text("settings"),
            r.instant("started_at"),
            r.instantIfAny("ended_at"),
            r.textIfAny("operator"),
            r.textIfAny("notes"));
    Optional<SheetRows.Key> row = Optional.empty();
    if (r.has("row_session"))
      row =
          Optional.of(
              new SheetRows.Key(r.text("row_session"), r.text("row_unit"), r.text("row_pass")));
    return new Run(
        new RunId(r.number("id")),
        r.has("file_id") ? Optional.of(new FileId(r.number("file_id"))) : Optional.empty(),
        row,
        facts,
        r.text("session_name"),
        r.date("local_date"),
        r.text("unit_name"),
        r.flag("control"),
        new ModelId(r.number("model_id")),
        r.text("model_name"),
        r.text("firmware"),
        r.has("held_for") ? Optional.of(new RunId(r.number("held_for"))) : Optional.empty(),
        r.instant("added_at"),
        r.instant("changed_at"));
  }
}
