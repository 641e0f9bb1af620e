package milewarden.store.run;

import com.fasterxml.jackson.core.type.TypeReference;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import milewarden.accuracy.Distances;
import milewarden.accuracy.Errors;
import milewarden.accuracy.Ladder;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.PassMeasurement;
import milewarden.accuracy.RecordingQuality;
import milewarden.accuracy.ShownDistance;
import milewarden.accuracy.ShownRun;
import milewarden.accuracy.TrackMeasurement;
import milewarden.course.Bounds;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.device.Gait;
import milewarden.device.Reading;
import milewarden.store.Id;
import milewarden.store.Id.FirmwareId;
import milewarden.store.Id.MeasurementId;
import milewarden.store.Id.ModelId;
import milewarden.store.Id.ResultId;
import milewarden.store.Id.RunId;
import milewarden.store.Id.SessionId;
import milewarden.store.Json;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.verdict.PassEvidence.Exclusion;
import org.jdbi.v3.core.statement.Query;

/**
 * What the engine found in the runs: beside each other for every engine version and every course
 * version; measuring again with the same versions replaces.
 */
public final class Results {
  private static final TypeReference<List<TrackMeasurement.Finding>> FINDINGS =
      new TypeReference<>() {};
  private static final String PUT =
      """
      insert into measurement (run_id, engine_version, course_slug, course_version,
                               track_length_m, recorded_length_m, recording, findings,
                               measured_at, options)
      values (:run, :engine, :slug, :version, :track, :recorded, :recording, :findings, :now,
              :options)
      on conflict (run_id, engine_version, course_version) do update
         set track_length_m = excluded.track_length_m,
             recorded_length_m = excluded.recorded_length_m,
             recording = excluded.recording, findings = excluded.findings,
             measured_at = excluded.measured_at, options = excluded.options
      returning id""";
  static final String DROP_REST =
      """
      delete from result where measurement_id = :measurement and pass > :passes""";
  static final String PUT_PASS =
      """
      insert into result (measurement_id, pass, direction, bounds, laps, started_at, duration_s,
             on_course, track_resolvable, reference_m, horizontal_reference_m, track_m, recorded_m, shown_as_read_m,
             shown_low_m, shown_high_m, display_step_m, track_error_percent,
             recorded_error_percent, shown_as_read_error_percent, shown_low_error_percent,
             shown_high_error_percent, slope_m, ends_m, line_m, backtrack_m, weave_m, bend_m,
             chord_m, source_m, indication_low_m, indication_high_m, predicted_inflation_m,
             offset_rms_m, lag_s, lag_low_s, lag_high_s, detail, series)
      values (:measurement, :pass, :direction, :bounds, :laps, :started, :duration, :onCourse, :resolvable,
             :reference, :horizontal, :track, :recorded, :shown, :shownLow, :shownHigh, :step,
             :trackError, :recordedError, :shownError, :shownLowError, :shownHighError, :slope,
             :ends, :line, :backtrack, :weave, :bend, :chord, :source, :indicationLow,
             :indicationHigh, :inflation, :offsetRms, :lag, :lagLow, :lagHigh,
             :detail, :series)
      on conflict (measurement_id, pass) do update
         set direction = excluded.direction, bounds = excluded.bounds, laps = excluded.laps,
             started_at = excluded.started_at, duration_s = excluded.duration_s,
             on_course = excluded.on_course,
             track_resolvable = excluded.track_resolvable, reference_m = excluded.reference_m,
             horizontal_reference_m = excluded.horizontal_reference_m,
             track_m = excluded.track_m, recorded_m = excluded.recorded_m,
             shown_as_read_m = excluded.shown_as_read_m, shown_low_m = excluded.shown_low_m,
             shown_high_m = excluded.shown_high_m, display_step_m = excluded.display_step_m,
             track_error_percent = excluded.track_error_percent,
             recorded_error_percent = excluded.recorded_error_percent,
             shown_as_read_error_percent = excluded.shown_as_read_error_percent,
             shown_low_error_percent = excluded.shown_low_error_percent,
             shown_high_error_percent = excluded.shown_high_error_percent,
             slope_m = excluded.slope_m, ends_m = excluded.ends_m, line_m = excluded.line_m,
             backtrack_m = excluded.backtrack_m, weave_m = excluded.weave_m,
             bend_m = excluded.bend_m, chord_m = excluded.chord_m, source_m = excluded.source_m,
             indication_low_m = excluded.indication_low_m,
             indication_high_m = excluded.indication_high_m,
             predicted_inflation_m = excluded.predicted_inflation_m,
             offset_rms_m = excluded.offset_rms_m, lag_s = excluded.lag_s,
             lag_low_s = excluded.lag_low_s, lag_high_s = excluded.lag_high_s, detail = excluded.detail,
             series = excluded.series""";
  private static final String WHOLE =
      """
      select ms.id, ms.run_id, ms.engine_version, ms.course_slug, ms.course_version,
             ms.track_length_m, ms.recorded_length_m, ms.recording, ms.findings, ms.measured_at
        from measurement ms
        left join course_version cv
          on cv.slug = ms.course_slug and cv.version = ms.course_version
       where ms.run_id = :run and ms.recording is not null
       order by case when cv.in_force then 0 else 1 end, ms.measured_at desc, ms.id desc
       limit 1""";
  private static final String PASSES =
      "select "
          + PassRows.COLUMNS
          + """
          , res.detail, res.series from result res
          where res.measurement_id = :measurement order by res.pass""";
  // The results that count: of this engine and of the course's version in force.
  private static final String SUMMARY =
      "select res.id, r.id as run_id, r.firmware_id, r.session_id, "
          + PassRows.COLUMNS
          + """
          , x.reason, x.excluded_by, x.excluded_at, x.words
           from run r
          """
          + Counting.RESULTS
          + """
           left join exclusion x on x.id = (
                select min(y.id) from exclusion y
                 where y.run_id = r.id and y.lifted_at is null and y.pass in (0, res.pass))
          """;
  private static final String OF_MODEL =
      SUMMARY
          + """
           where r.unit_id in (select id from unit where model_id = :model)
           order by r.started_at, r.id, res.pass""";
  private static final String OF_SESSION =
      SUMMARY + " where r.session_id = :session order by r.started_at, r.id, res.pass";
  private static final String OF_FIRMWARE =
      SUMMARY + " where r.firmware_id = :firmware order by r.started_at, r.id, res.pass";
  private static final String OF_RUN = SUMMARY + " where r.id = :run order by res.pass";
  private static final String RECENT =
      SUMMARY
          + """
           where r.id in (select id from run order by started_at desc, id desc
                           limit :limit offset :offset)
           order by r.started_at desc, r.id desc, res.pass""";

  private static final String HOW =
      """
      select ms.run_id, res.pass, ms.course_slug, ms.course_version, ms.options from result res
        join measurement ms on ms.id = res.measurement_id where res.id = :id""";

  private static final String PASS =
      """
      select ms.run_id, res.pass from result res
        join measurement ms on ms.id = res.measurement_id where res.id = :id""";

  private Results() {}

  /** The pass of a run that a result is of, also of one that no longer counts. */
  public record PassOf(RunId run, int pass) {}

  /** A recording's measurement as a whole, with its passes and their series. */
  public record Measured(
      MeasurementId id,
      RunId run,
      String engineVersion,
      String courseSlug,
      String courseVersion,
      TrackMeasurement measurement,
      Instant measuredAt) {}

  /**
   * How the results of a run came about.
   *
   * @param options empty where they were kept before these were
   */
  public record How(
      RunId run,
      int pass,
      String courseSlug,
      String courseVersion,
      Optional<MeasureOptions> options) {}

  /** How a result came about. */
  public static Optional<How> how(Tx tx, ResultId result) {
    return tx.query(HOW)
        .bind("id", result)
        .map(
            Row.as(
                r ->
                    new How(
                        new RunId(r.number("run_id")),
                        r.count("pass"),
                        r.text("course_slug"),
                        r.text("course_version"),
                        r.textIfAny("options").map(t -> Json.read(t, MeasureOptions.class)))))
        .findOne();
  }

  /**
   * A pass's figures without its series.
   *
   * @param onCourse where false, or the track is not resolvable, only shown and recorded count
   * @param ladder NaN steps where there is no recording
   */
  public record Summary(
      ResultId id,
      RunId run,
      FirmwareId firmware,
      SessionId session,
      int pass,
      Direction direction,
      boolean onCourse,
      boolean trackResolvable,
      Optional<Instant> startedAt,
      OptionalDouble durationS,
      Distances distances,
      Errors errors,
      Ladder ladder,
      OptionalDouble displayStepM,
      Optional<Exclusion> exclusion) {}

  /**
   * Keeps what the engine found. Lengths of a track that isn't there are NaN.
   *
   * @param options by which it was measured: with them and the bytes it can be measured again
   */
  public static MeasurementId put(
      Tx tx,
      RunId run,
      String engineVersion,
      ReferenceCourse course,
      TrackMeasurement found,
      MeasureOptions options) {
    PassesTogether passes = new PassesTogether(tx);
    MeasurementId id =
        put(tx, run, engineVersion, course, WrittenMeasurement.of(found), options, passes);
    passes.write();
    return id;
  }

  /**
   * As {@link #put(Tx, RunId, String, ReferenceCourse, TrackMeasurement, MeasureOptions)}.
   *
   * @param passes takes its passes, to be written with those of other recordings
   */
  public static MeasurementId put(
      Tx tx,
      RunId run,
      String engineVersion,
      ReferenceCourse course,
      WrittenMeasurement written,
      MeasureOptions options,
      PassesTogether passes) {
    TrackMeasurement found = written.measurement();
    MeasurementId id =
        measurement(tx, run, engineVersion, course)
            .bind("options", Json.write(options))
            .bind("track", PassRows.known(found.trackLengthM()))
            .bind("recorded", found.recordedLengthM())
            .bind("recording", Json.write(found.recording()))
            .bind("findings", Json.write(found.findings()))
            .map(Row.as(r -> new MeasurementId(r.number("id"))))
            .one();
    OptionalDouble displayStepM =
        options.shown().isEmpty()
            ? OptionalDouble.empty()
            : OptionalDouble.of(ShownDistance.of(options.shown().get(0)).stepM());
    passes.add(id, written.passes(), displayStepM);
    return id;
  }

  /** Keeps a run that is known by its shown distance alone. */
  public static MeasurementId put(
      Tx tx,
      RunId run,
      String engineVersion,
      ReferenceCourse course,
      ShownRun found,
      Direction direction,
      Reading shown) {
    MeasureOptions options =
        new MeasureOptions(
            Optional.of(Bounds.MARKS),
            OptionalInt.of(found.laps()),
            Optional.of(direction),
            List.of(shown),
            Gait.WALK);
    MeasurementId id =
        measurement(tx, run, engineVersion, course)
            .bind("options", Json.write(options))
            .bind("track", OptionalDouble.empty())
            .bind("recorded", OptionalDouble.empty())
            .bind("recording", Optional.empty())
            .bind("findings", Json.write(List.of()))
            .map(Row.as(r -> new MeasurementId(r.number("id"))))
            .one();
    tx.update(DROP_REST).bind("measurement", id).bind("passes", 1).execute();
    PassRows.bind(tx.update(PUT_PASS).bind("measurement", id), found, direction).execute();
    return id;
  }

  private static Query measurement(Tx tx, RunId run, String engineVersion, ReferenceCourse course) {
    return tx.inserting(PUT)
        .bind("run", run)
        .bind("engine", engineVersion)
        .bind("slug", course.slug().text())
        .bind("version", course.version())
        .bind("now", tx.now());
  }

  /**
   * The measurement of a recording: of the course version in force before others, the newest before
   * older.
   */
  public static Optional<Measured> find(Tx tx, RunId run) {
    return tx.query(WHOLE).bind("run", run).map(Row.as(r -> read(tx, r))).findOne();
  }

  private static Measured read(Tx tx, Row r) throws java.sql.SQLException {
    MeasurementId id = new MeasurementId(r.number("id"));
    List<PassMeasurement> passes =
        tx.query(PASSES).bind("measurement", id).map(Row.as(PassRows::read)).list();
    return new Measured(
        id,
        new RunId(r.number("run_id")),
        r.text("engine_version"),
        r.text("course_slug"),
        r.text("course_version"),
        new TrackMeasurement(
            r.realOrNan("track_length_m"),
            r.realIfAny("recorded_length_m"),
            Json.read(r.text("recording"), RecordingQuality.class),
            passes,
            Json.read(r.text("findings"), FINDINGS)),
        r.instant("measured_at"));
  }

  /** All passes of a model that were measured by this engine, in order of time. */
  public static List<Summary> ofModel(Tx tx, ModelId model, String engineVersion) {
    return summaries(tx, OF_MODEL, engineVersion, "model", model);
  }

  public static Optional<PassOf> passOf(Tx tx, ResultId id) {
    return tx.query(PASS)
        .bind("id", id)
        .map(Row.as(r -> new PassOf(new RunId(r.number("run_id")), r.count("pass"))))
        .findOne();
  }

  public static List<Summary> ofSession(Tx tx, SessionId session, String engineVersion) {
    return summaries(tx, OF_SESSION, engineVersion, "session", session);
  }

  public static List<Summary> ofFirmware(Tx tx, FirmwareId firmware, String engineVersion) {
    return summaries(tx, OF_FIRMWARE, engineVersion, "firmware", firmware);
  }

  public static List<Summary> ofRun(Tx tx, RunId run, String engineVersion) {
    return summaries(tx, OF_RUN, engineVersion, "run", run);
  }

  /** The passes of the same runs as {@link Runs#page}. */
  public static List<Summary> page(Tx tx, String engineVersion, int limit, int offset) {
    return tx.query(RECENT)
        .bind("engine", engineVersion)
        .bind("limit", limit)
        .bind("offset", offset)
        .map(Row.as(Results::summary))
        .list();
  }

  private static List<Summary> summaries(Tx tx, String sql, String engine, String name, Id id) {
    return tx.query(sql).bind("engine", engine).bind(name, id).map(Row.as(Results::summary)).list();
  }

  private static Summary summary(Row r) throws java.sql.SQLException {
    return new Summary(
        new ResultId(r.number("id")),
        new RunId(r.number("run_id")),
        new FirmwareId(r.number("firmware_id")),
        new SessionId(r.number("session_id")),
        r.count("pass"),
        r.choice("direction", Direction.class),
        r.flag("on_course"),
        r.flag("track_resolvable"),
        r.instantIfAny("started_at"),
        r.realIfAny("duration_s"),
        PassRows.distances(r),
        PassRows.errors(r),
        PassRows.ladder(r),
        r.realIfAny("display_step_m"),
        r.has("reason") ? Optional.of(Exclusions.read(r)) : Optional.empty());
  }
}
