package milewarden.store.run;

import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.accuracy.Errors;
import milewarden.course.Direction;
import milewarden.course.SkyView;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.store.Id.ModelId;
import milewarden.store.Id.RunId;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.verdict.Condition;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.PublishedVerdict;

/**
 * The passes by which a model is judged: its own and those of the control units that were carried
 * beside it, measured by one engine version against the course versions in force. Held runs are not
 * among them; excluded passes are, with their reason.
 */
public final class EvidenceRows {
  private static final String PASSES =
      """
      select res.id, r.id as run_id, res.pass, s.name as session_name, s.first_start, s.local_date, m.name as model_name,
             u.name as unit_name, u.control, f.version as firmware, cv.slug, cv.version, cv.site,
             cv.length_m, cv.standard_uncertainty_m, r.carriage, r.gait, r.settings,
             res.direction, res.on_course, res.track_resolvable, res.track_error_percent, res.recorded_error_percent,
             res.shown_as_read_error_percent, res.shown_low_error_percent,
             res.shown_high_error_percent, res.reference_m, res.display_step_m,
             x.reason, x.excluded_by, x.excluded_at, x.words
        from run r
        join unit u on u.id = r.unit_id
        join model m on m.id = u.model_id
        join firmware f on f.id = r.firmware_id
        join session s on s.id = r.session_id
        join measurement ms
          on ms.run_id = r.id and ms.engine_version = :engine and ms.course_slug = r.course_slug
        join course_version cv
          on cv.slug = ms.course_slug and cv.version = ms.course_version and cv.in_force
        join result res on res.measurement_id = ms.id
        left join exclusion x on x.id = (
             select min(y.id) from exclusion y
              where y.run_id = r.id and y.lifted_at is null and y.pass in (0, res.pass))
       where r.held_for is null
      """;

  private static final String ORDER =
      """
       order by s.first_start, s.name, u.name, r.started_at, r.id, res.pass""";

  private static final String OF_MODEL =
      PASSES
          + """
         and r.id in (
             select own.id from run own join unit ou on ou.id = own.unit_id
              where ou.model_id = :model
             union
             select beside.id
               from run beside
               join unit cu on cu.id = beside.unit_id and cu.control
              where beside.session_id in (
                    select own.session_id from run own join unit ou on ou.id = own.unit_id
                     where ou.model_id = :model))
      """
          + ORDER;

  private static final String RUNS_OF_RELEASE =
      """
      select res.id, s.name as session_name, u.name as unit_name, rf.sha256
        from run r
        join unit u on u.id = r.unit_id
        join firmware f on f.id = r.firmware_id
        join session s on s.id = r.session_id
      """
          + Counting.RESULTS
          + """
        left join received_file rf on rf.id = r.file_id
       where u.model_id = :model and f.version = :firmware
       order by res.id""";

  private static final String SESSIONS =
      """
      select f.version, count(distinct s.name) as sessions
        from run r
        join unit u on u.id = r.unit_id
        join firmware f on f.id = r.firmware_id
        join session s on s.id = r.session_id
      """
          + Counting.RESULTS
          + """
       where u.model_id = :model and not u.control and r.held_for is null
         and not exists (
             select 1 from exclusion x
              where x.run_id = r.id and x.lifted_at is null and x.pass in (0, res.pass))
       group by f.version""";

  private static final String COARSEST_STEP =
      """
      select max(res.display_step_m) as step
        from run r
        join unit u on u.id = r.unit_id
      """
          + Counting.RESULTS
          + """
       where u.model_id = :model and not u.control and r.held_for is null
         and res.display_step_m > 0""";

  private EvidenceRows() {}

  /** The coarsest step of a display among the model's own passes, excluded ones too, metres. */
  public static OptionalDouble coarsestStep(Tx tx, ModelId model, String engineVersion) {
    double step =
        tx.query(COARSEST_STEP)
            .bind("model", model)
            .bind("engine", engineVersion)
            .map(Row.as(r -> r.realOrNan("step")))
            .one();
    return Double.isNaN(step) ? OptionalDouble.empty() : OptionalDouble.of(step);
  }

  /**
   * Sessions by release of the model's own passes that are not excluded: what counting them in
   * {@link #of} gives, without reading them. A release without any is left out.
   */
  public static Map<String, Integer> sessions(Tx tx, ModelId model, String engineVersion) {
    Map<String, Integer> sessions = new HashMap<>();
    tx.query(SESSIONS)
        .bind("model", model)
        .bind("engine", engineVersion)
        .map(Row.as(r -> sessions.put(r.text("version"), r.count("sessions"))))
        .list();
    return sessions;
  }

  /** What each result of a release rests on, by result: the evidence that a verdict names. */
  public static List<PublishedVerdict.RunUsed> runs(
      Tx tx, ModelId model, String firmware, String engineVersion) {
    return tx.query(RUNS_OF_RELEASE)
        .bind("model", model)
        .bind("firmware", firmware)
        .bind("engine", engineVersion)
        .map(
            Row.as(
                r ->
                    new PublishedVerdict.RunUsed(
                        r.number("id"),
                        r.text("session_name"),
                        r.text("unit_name"),
                        r.textIfAny("sha256").orElse(""))))
        .list();
  }

  /** A pass as evidence, and whose it is. */
  public record Placed(RunId run, int pass, PassEvidence evidence) {}

  /** In order of session, unit, time and pass. */
  public static List<PassEvidence> of(Tx tx, ModelId model, String engineVersion) {
    return placed(tx, model, engineVersion).stream().map(Placed::evidence).toList();
  }

  /** The same with the runs that they are of. */
  public static List<Placed> placed(Tx tx, ModelId model, String engineVersion) {
    Alike alike = new Alike();
    return tx.query(OF_MODEL)
        .bind("model", model)
        .bind("engine", engineVersion)
        .map(
            Row.as(r -> new Placed(new RunId(r.number("run_id")), r.count("pass"), read(r, alike))))
        .list();
  }

  /**
   * What thousands of passes share is one object within an answer: the judge asks of every two of
   * them whether their conditions are equal, and most of its time went into comparing their texts.
   */
  private static final class Alike {
    private final Map<Object, Object> first = new HashMap<>();
    private final Map<String, Instant> starts = new HashMap<>();
    private final Map<String, LocalDate> dates = new HashMap<>();

    @SuppressWarnings("unchecked")
    <T> T of(T value) {
      return (T) first.computeIfAbsent(value, v -> v);
    }

    /** The moment of a text, which takes longer to read than to find. */
    Instant start(String text) {
      return starts.computeIfAbsent(text, Instant::parse);
    }

    /** The same of a day. */
    LocalDate date(String text) {
      return dates.computeIfAbsent(text, LocalDate::parse);
    }
  }

  private static PassEvidence read(Row r, Alike alike) throws SQLException {
    Condition condition =
        new Condition(
            r.text("slug"),
            r.text("version"),
            r.choice("site", SkyView.class),
            r.choice("carriage", Carriage.class),
            r.choice("gait", Gait.class),
            r.text("settings"));
    return new PassEvidence(
        r.number("id"),
        alike.of(r.text("session_name")),
        alike.start(r.text("first_start")),
        alike.date(r.text("local_date")),
        alike.of(r.text("model_name")),
        alike.of(r.text("unit_name")),
        r.flag("control"),
        alike.of(r.text("firmware")),
        alike.of(condition),
        r.choice("direction", Direction.class),
        counting(PassRows.errors(r), r.flag("on_course") && r.flag("track_resolvable")),
        r.real("reference_m"),
        100 * r.real("standard_uncertainty_m") / r.real("length_m"),
        r.realOrNan("display_step_m"),
        r.has("reason") ? Optional.of(Exclusions.read(r)) : Optional.empty());
  }

  /**
   * The errors that count. Off the line the track's figure may be the walker's doing, and coarse
   * positions have none; what the device counted still counts.
   */
  public static Errors counting(Errors e, boolean trackCounts) {
    if (trackCounts) return e;
    return new Errors(
        OptionalDouble.empty(), e.recordedPercent(), e.shownAsReadPercent(), e.shownPercent());
  }
}
