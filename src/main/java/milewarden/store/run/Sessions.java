package milewarden.store.run;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import milewarden.store.Id.SessionId;
import milewarden.store.Row;
import milewarden.store.Tx;

/** Outings. A session is named by its tag, or gathers recordings that start close together. */
public final class Sessions {
  private static final String COLUMNS =
      """
      select id, name, tagged, first_start, last_start, local_date from session
      """;
  private static final String BY_NAME = COLUMNS + " where name = :name";
  private static final String BY_ID = COLUMNS + " where id = :id";
  private static final String PAGE =
      COLUMNS + " order by first_start desc, id desc limit :limit offset :offset";
  private static final String NEAR =
      COLUMNS
          + """
           where not tagged and local_date = :date and first_start <= :to and last_start >= :from
           order by first_start, id""";
  private static final String ADD =
      """
      insert into session (name, tagged, first_start, last_start, local_date, added_at)
      values (:name, :tagged, :start, :start, :date, :now) returning id""";
  private static final String WIDEN =
      """
      update session set first_start = :first, last_start = :last, local_date = :date
       where id = :id""";
  // Apart: no figure rests on when the last of a session started, and all on when the first did.
  private static final String LENGTHEN =
      """
      update session set last_start = :last where id = :id""";
  private static final String HAND_OVER =
      """
      update run set session_id = :to where session_id = :from""";
  private static final String HAND_OVER_REFERENCE =
      """
      update reference_track set session_id = :to where session_id = :from""";
  private static final String DROP =
      """
      delete from session where id = :id""";

  private Sessions() {}

  /**
   * An outing.
   *
   * @param name the tag; {@code outing of} its day where nobody named it
   * @param firstStart earliest start of a recording: sessions count in this order
   */
  public record Session(
      SessionId id,
      String name,
      boolean tagged,
      Instant firstStart,
      Instant lastStart,
      LocalDate date) {}

  /** The session of this tag, made where it is new; it widens to the start. */
  public static Session tagged(Tx tx, String name, Instant start, LocalDate date) {
    Optional<Session> known =
        tx.query(BY_NAME).bind("name", name.strip()).map(Row.as(Sessions::read)).findOne();
    return known.isPresent()
        ? widen(tx, known.get(), start, date)
        : add(tx, name.strip(), true, start, date);
  }

  /**
   * The session without a tag that a recording belongs to: one of the same local date with a start
   * within {@code within} of this one. A recording between two sessions makes them one, so the
   * order of arrival doesn't matter.
   */
  public static Session untagged(Tx tx, Instant start, LocalDate date, Duration within) {
    List<Session> near =
        tx.query(NEAR)
            .bind("date", date)
            .bind("from", start.minus(within))
            .bind("to", start.plus(within))
            .map(Row.as(Sessions::read))
            .list();
    if (near.isEmpty()) return add(tx, "outing of " + date, false, start, date);
    Session kept = widen(tx, near.get(0), start, date);
    for (Session other : near.subList(1, near.size())) {
      for (String sql : List.of(HAND_OVER, HAND_OVER_REFERENCE))
        tx.update(sql).bind("to", kept.id()).bind("from", other.id()).execute();
      tx.update(DROP).bind("id", other.id()).execute();
      kept = widen(tx, kept, other.lastStart(), date);
    }
    return kept;
  }

  public static Optional<Session> find(Tx tx, SessionId id) {
    return tx.query(BY_ID).bind("id", id).map(Row.as(Sessions::read)).findOne();
  }

  /** Sessions, the latest first. */
  /** The session of this name. */
  public static Optional<Session> find(Tx tx, String name) {
    return tx.query(BY_NAME).bind("name", name).map(Row.as(Sessions::read)).findOne();
  }

  public static List<Session> page(Tx tx, int limit, int offset) {
    return tx.query(PAGE)
        .bind("limit", limit)
        .bind("offset", offset)
        .map(Row.as(Sessions::read))
        .list();
  }

  private static Session add(Tx tx, String name, boolean tagged, Instant start, LocalDate date) {
    String free = name;
    for (int i = 2;
        tx.query(BY_NAME).bind("name", free).map(Row.as(Sessions::read)).findOne().isPresent();
        i++) free = name + " (" + i + ")";
    SessionId id =
        tx.inserting(ADD)
            .bind("name", free)
            .bind("tagged", tagged)
            .bind("start", start)
            .bind("date", date)
            .bind("now", tx.now())
            .map(Row.as(r -> new SessionId(r.number("id"))))
            .one();
    return new Session(id, free, tagged, start, start, date);
  }

  private static Session widen(Tx tx, Session s, Instant start, LocalDate date) {
    boolean earlier = start.isBefore(s.firstStart());
    boolean later = start.isAfter(s.lastStart());
    if (!earlier && !later) return s;
    Session wide =
        new Session(
            s.id(),
            s.name(),
            s.tagged(),
            earlier ? start : s.firstStart(),
            later ? start : s.lastStart(),
            earlier ? date : s.date());
    if (earlier)
      tx.update(WIDEN)
          .bind("id", s.id())
          .bind("first", wide.firstStart())
          .bind("last", wide.lastStart())
          .bind("date", wide.date())
          .execute();
    else tx.update(LENGTHEN).bind("id", s.id()).bind("last", wide.lastStart()).execute();
    return wide;
  }

  private static Session read(Row r) throws java.sql.SQLException {
    return new Session(
        new SessionId(r.number("id")),
        r.text("name"),
        r.flag("tagged"),
        r.instant("first_start"),
        r.instant("last_start"),
        r.date("local_date"));
  }
}
