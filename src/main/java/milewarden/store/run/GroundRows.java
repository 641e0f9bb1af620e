package milewarden.store.run;

import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;
import milewarden.course.Direction;
import milewarden.course.SkyView;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.verdict.Condition;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.PassEvidence.Exclusion;
import org.jdbi.v3.core.statement.Query;

/**
 * The same passes as {@link EvidenceRows}, for questions that are asked of nearly all of them: a
 * row carries what is its own, and what it shares with thousands of others (outing, unit, release,
 * course) is read once. Held runs are not among them; excluded passes are, with their reason.
 */
public final class GroundRows {
  private static final String PASSES =
      """
      select res.id, r.id as run_id, res.pass, r.session_id, r.unit_id, r.firmware_id,
             ms.course_slug, ms.course_version, r.carriage, r.gait, r.settings, res.direction,
             res.on_course, res.track_resolvable, res.track_error_percent,
             res.recorded_error_percent, res.shown_as_read_error_percent,
             res.shown_low_error_percent, res.shown_high_error_percent, res.reference_m,
             res.display_step_m
        from run r
        join measurement ms
          on ms.run_id = r.id and ms.engine_version || '' = :engine and ms.course_slug = r.course_slug
        join result res on res.measurement_id = ms.id
       where r.held_for is null and\s""";
  private static final String ON_COURSE = PASSES + "r.course_slug = :slug";
  private static final String OF_CONTROLS =
      PASSES + "r.unit_id in (select id from unit where control)";
  private static final String OUTINGS = "select id, name, first_start, local_date from session";
  private static final String UNITS =
      """
      select u.id, u.name, u.control, m.name as model_name
        from unit u join model m on m.id = u.model_id""";
  private static final String RELEASES = "select id, version from firmware";
  private static final String GROUNDS =
      """
      select slug, version, site, length_m, standard_uncertainty_m
        from course_version where in_force""";
  // One of the whole run (pass 0) and one of the pass may stand at once: the older is told.
  private static final String EXCLUSIONS =
      """
      select id, run_id, pass, reason, excluded_by, excluded_at, words
        from exclusion where lifted_at is null""";

  // Rows; some hundredths of a second.
  private static final int STEP = 2000;

  private static final Comparator<PassEvidence> ORDER =
      Comparator.comparing(PassEvidence::sessionStart)
          .thenComparing(PassEvidence::session)
          .thenComparing(PassEvidence::unit)
          .thenComparing(PassEvidence::resultId);

  private final Map<Long, Outing> outings;
  private final Map<Long, Carried> units;
  private final Map<Long, String> releases;
  private final Map<Version, Ground> grounds;
  private final Map<Place, Standing> exclusions;
  private final Map<Condition, Condition> conditions = new HashMap<>();

  private final Tx tx;
  private final Runnable giveWay;
  private int read;

  /**
   * Reads what passes share.
   *
   * @param giveWay called every so many rows; what it throws ends the reading
   */
  public GroundRows(Tx tx, Runnable giveWay) {
    this.tx = tx;
    this.giveWay = giveWay;
    outings = read(tx, OUTINGS, r -> r.number("id"), this::outing);
    units = read(tx, UNITS, r -> r.number("id"), Carried::of);
    releases = read(tx, RELEASES, r -> r.number("id"), r -> r.text("version"));
    grounds = read(tx, GROUNDS, r -> new Version(r.text("slug"), r.text("version")), Ground::of);
    exclusions =
        read(tx, EXCLUSIONS, r -> new Place(r.number("run_id"), r.count("pass")), Standing::of);
  }

  private static <K, V> Map<K, V> read(Tx tx, String sql, Row.Reader<K> key, Row.Reader<V> value) {
    Map<K, V> all = new HashMap<>();
    tx.query(sql).map(Row.as(r -> all.put(key.read(r), value.read(r)) == null)).list();
    return all;
  }

  /** The same row, once in a while after others went first. */
  private Row next(Row row) {
    if (++read % STEP == 0) giveWay.run();
    return row;
  }

  private Outing outing(Row r) throws SQLException {
    return Outing.of(next(r));
  }

  private record Outing(String name, Instant start, LocalDate date) {
    static Outing of(Row r) throws SQLException {
      return new Outing(r.text("name"), r.instant("first_start"), r.date("local_date"));
    }
  }

  private record Carried(String name, String model, boolean control) {
    static Carried of(Row r) throws SQLException {
      return new Carried(r.text("name"), r.text("model_name"), r.flag("control"));
    }
  }

  private record Version(String slug, String version) {}

  private record Ground(SkyView site, double standardUncertaintyPercent) {
    static Ground of(Row r) throws SQLException {
      return new Ground(
          r.choice("site", SkyView.class),
          100 * r.real("standard_uncertainty_m") / r.real("length_m"));
    }
  }

  private record Place(long run, int pass) {}

  private record Standing(long id, Exclusion exclusion) {
    static Standing of(Row r) throws SQLException {
      return new Standing(r.number("id"), Exclusions.read(r));
    }
  }

  /** All passes on a course, of every model and control unit; by session, unit and result. */
  public List<PassEvidence> onCourse(String slug, String engineVersion) {
    return evidence(tx.query(ON_COURSE).bind("slug", slug).bind("engine", engineVersion));
  }

  /** All passes of the control units, in the same order. */
  public List<PassEvidence> ofControls(String engineVersion) {
    return evidence(tx.query(OF_CONTROLS).bind("engine", engineVersion));
  }

  private List<PassEvidence> evidence(Query passes) {
    return passes.map(Row.as(r -> evidence(next(r)))).list().stream()
        .flatMap(Optional::stream)
        .sorted(ORDER)
        .toList();
  }

  /** Empty where the pass was measured by a version of the course that is no longer in force. */
  private Optional<PassEvidence> evidence(Row r) throws SQLException {
    Version version = new Version(r.text("course_slug"), r.text("course_version"));
    Ground ground = grounds.get(version);
    if (ground == null) return Optional.empty();
    Outing outing = known(outings, r.number("session_id"));
    Carried unit = known(units, r.number("unit_id"));
    return Optional.of(
        new PassEvidence(
            r.number("id"),
            outing.name,
            outing.start,
            outing.date,
            unit.model,
            unit.name,
            unit.control,
            known(releases, r.number("firmware_id")),
            condition(r, version, ground),
            r.choice("direction", Direction.class),
            EvidenceRows.counting(
                PassRows.errors(r), r.flag("on_course") && r.flag("track_resolvable")),
            r.real("reference_m"),
            ground.standardUncertaintyPercent,
            r.realOrNan("display_step_m"),
            exclusion(r.number("run_id"), r.count("pass"))));
  }

  private static <V> V known(Map<Long, V> all, long id) {
    return Objects.requireNonNull(all.get(id), "a row that the store's keys promise");
  }

  private Condition condition(Row r, Version version, Ground ground) throws SQLException {
    Condition condition =
        new Condition(
            version.slug,
            version.version,
            ground.site,
            r.choice("carriage", Carriage.class),
            r.choice("gait", Gait.class),
            r.text("settings"));
    return conditions.computeIfAbsent(condition, c -> c);
  }

  private Optional<Exclusion> exclusion(long run, int pass) {
    if (exclusions.isEmpty()) return Optional.empty();
    return Stream.of(new Place(run, 0), new Place(run, pass))
        .flatMap(p -> Optional.ofNullable(exclusions.get(p)).stream())
        .min(Comparator.comparing(Standing::id))
        .map(Standing::exclusion);
  }
}
