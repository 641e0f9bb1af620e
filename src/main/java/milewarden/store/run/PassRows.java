package milewarden.store.run;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.sql.SQLException;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import milewarden.accuracy.Distances;
import milewarden.accuracy.Errors;
import milewarden.accuracy.Ladder;
import milewarden.accuracy.PassMeasurement;
import milewarden.accuracy.ShownRun;
import milewarden.course.Bounds;
import milewarden.course.Direction;
import milewarden.store.Json;
import milewarden.store.Row;
import milewarden.store.Unreadable;
import milewarden.units.LengthRange;
import milewarden.units.PercentRange;
import milewarden.verdict.SmoothingLag;
import org.jdbi.v3.core.statement.SqlStatement;

/**
 * A pass between its record and its columns: the figures that questions are asked of as columns,
 * the series packed, and the record without its series as JSON. What has no track has no track's
 * figures: they are not a number in the record and null in the table.
 */
public final class PassRows {
  /** The columns of {@link #read} but for the series. */
  static final String COLUMNS =
      """
      res.pass, res.direction, res.bounds, res.laps, res.started_at, res.duration_s,
      res.on_course, res.track_resolvable, res.reference_m, res.horizontal_reference_m, res.track_m, res.recorded_m,
      res.shown_as_read_m, res.shown_low_m, res.shown_high_m, res.display_step_m,
      res.track_error_percent, res.recorded_error_percent, res.shown_as_read_error_percent,
      res.shown_low_error_percent, res.shown_high_error_percent, res.slope_m, res.ends_m,
      res.line_m, res.backtrack_m, res.weave_m, res.bend_m, res.chord_m, res.source_m,
      res.indication_low_m, res.indication_high_m, res.predicted_inflation_m""";

  private PassRows() {}

  /** A pass with what of it takes long to write: made before the transaction. */
  public record Written(PassMeasurement pass, String detail, byte[] series) {
    static Written of(PassMeasurement pass) {
      return new Written(pass, Json.writeWithoutSeries(pass), PassRows.series(pass));
    }
  }

  static <S extends SqlStatement<S>> S bind(S sql, Written written, OptionalDouble stepM) {
    PassMeasurement p = written.pass();
    Optional<SmoothingLag> lag = LagRows.of(p.fingerprints());
    S s =
        sql.bind("pass", p.index())
            .bind("direction", p.direction())
            .bind("bounds", p.bounds())
            .bind("laps", p.laps())
            .bind("started", p.startedAt())
            .bind("duration", p.durationS())
            .bind("onCourse", p.onCourse())
            .bind("resolvable", p.trackResolvable())
            .bind("inflation", known(p.predictedInflationM()))
            .bind("offsetRms", known(p.offset().rmsM()))
            .bind("lag", lag.map(SmoothingLag::seconds))
            .bind("lagLow", lag.map(SmoothingLag::lowS))
            .bind("lagHigh", lag.map(SmoothingLag::highS))
            .bind("step", stepM)
            .bind("detail", written.detail())
            .bind("series", written.series());
    return ladder(errors(distances(s, p.distances()), p.errors()), p.ladder());
  }

  /** The same for a shown distance without a recording: from mark to mark, as the tester did it. */
  static <S extends SqlStatement<S>> S bind(S sql, ShownRun run, Direction direction) {
    Distances distances =
        new Distances(
            run.referenceM(),
            run.referenceM(),
            Double.NaN,
            OptionalDouble.empty(),
            OptionalDouble.of(run.shown().asReadM()),
            Optional.of(run.shown().range()));
    Ladder none =
        new Ladder(
            Double.NaN,
            Double.NaN,
            Double.NaN,
            Double.NaN,
            Double.NaN,
            Double.NaN,
            Double.NaN,
            OptionalDouble.empty(),
            Optional.empty());
    S s =
        sql.bind("pass", 1)
            .bind("direction", direction)
            .bind("bounds", Bounds.MARKS)
            .bind("laps", run.laps())
            .bind("started", Optional.empty())
            .bind("duration", OptionalDouble.empty())
            .bind("onCourse", true)
            .bind("resolvable", false)
            .bind("inflation", OptionalDouble.empty())
            .bind("offsetRms", OptionalDouble.empty())
            .bind("lag", Optional.empty())
            .bind("lagLow", Optional.empty())
            .bind("lagHigh", Optional.empty())
            .bind("step", OptionalDouble.of(run.shown().stepM()))
            .bind("detail", Optional.empty())
            .bind("series", Optional.empty());
    return ladder(errors(distances(s, distances), run.errors()), none);
  }

  private static <S extends SqlStatement<S>> S distances(S sql, Distances d) {
    return sql.bind("reference", d.referenceM())
        .bind("horizontal", d.horizontalReferenceM())
        .bind("track", known(d.trackM()))
        .bind("recorded", d.recordedM())
        .bind("shown", d.shownAsReadM())
        .bind("shownLow", d.shownM().map(LengthRange::lowM))
        .bind("shownHigh", d.shownM().map(LengthRange::highM));
  }

  private static <S extends SqlStatement<S>> S errors(S sql, Errors e) {
    return sql.bind("trackError", e.trackPercent())
        .bind("recordedError", e.recordedPercent())
        .bind("shownError", e.shownAsReadPercent())
        .bind("shownLowError", e.shownPercent().map(PercentRange::low))
        .bind("shownHighError", e.shownPercent().map(PercentRange::high));
  }

  private static <S extends SqlStatement<S>> S ladder(S sql, Ladder l) {
    return sql.bind("slope", known(l.slopeM()))
        .bind("ends", known(l.endsM()))
        .bind("line", known(l.lineM()))
        .bind("backtrack", known(l.backtrackM()))
        .bind("weave", known(l.weaveM()))
        .bind("bend", known(l.bendM()))
        .bind("chord", known(l.chordM()))
        .bind("source", l.sourceM())
        .bind("indicationLow", l.indicationM().map(LengthRange::lowM))
        .bind("indicationHigh", l.indicationM().map(LengthRange::highM));
  }

  static Distances distances(Row r) throws SQLException {
    return new Distances(
        r.real("reference_m"),
        r.real("horizontal_reference_m"),
        r.realOrNan("track_m"),
        r.realIfAny("recorded_m"),
        r.realIfAny("shown_as_read_m"),
        lengths(r, "shown_low_m", "shown_high_m"));
  }

  /** The errors as they were measured. */
  static Errors errors(Row r) throws SQLException {
    OptionalDouble low = r.realIfAny("shown_low_error_percent");
    OptionalDouble high = r.realIfAny("shown_high_error_percent");
    return new Errors(
        r.realIfAny("track_error_percent"),
        r.realIfAny("recorded_error_percent"),
        r.realIfAny("shown_as_read_error_percent"),
        low.isPresent() && high.isPresent()
            ? Optional.of(new PercentRange(low.getAsDouble(), high.getAsDouble()))
            : Optional.empty());
  }

  static Ladder ladder(Row r) throws SQLException {
    return new Ladder(
        r.realOrNan("slope_m"),
        r.realOrNan("ends_m"),
        r.realOrNan("line_m"),
        r.realOrNan("backtrack_m"),
        r.realOrNan("weave_m"),
        r.realOrNan("bend_m"),
        r.realOrNan("chord_m"),
        r.realIfAny("source_m"),
        lengths(r, "indication_low_m", "indication_high_m"));
  }

  private static Optional<LengthRange> lengths(Row r, String low, String high) throws SQLException {
    OptionalDouble from = r.realIfAny(low);
    OptionalDouble to = r.realIfAny(high);
    return from.isPresent() && to.isPresent()
        ? Optional.of(new LengthRange(from.getAsDouble(), to.getAsDouble()))
        : Optional.empty();
  }

  /** A whole pass; the row has detail and series too. */
  public static PassMeasurement read(Row r) throws SQLException {
    byte[] series = r.bytes("series");
    ObjectNode pass = Json.tree(r.text("detail"));
    try {
      put(pass, new Series.Reader(series));
    } catch (IllegalArgumentException | IndexOutOfBoundsException e) {
      throw new Unreadable(PassMeasurement.class.getSimpleName(), e);
    }
    return Json.read(pass, PassMeasurement.class);
  }

  private static void put(ObjectNode pass, Series.Reader series) {
    put(pass, "excessPer10m", series.next(Series.EXCESS_STEP));
    // As it is: by way of JSON, its thousands of numbers took longer than all the rest of a pass.
    pass.putPOJO(
        "profile",
        new PassMeasurement.Profile(
            listed(series.next(Series.LENGTH_STEP)),
            listed(series.next(Series.LENGTH_STEP)),
            listed(series.next(Series.SPEED_STEP)),
            listed(series.next(Series.DEGREE_STEP)),
            listed(series.next(Series.DEGREE_STEP))));
  }

  private static List<Double> listed(double[] values) {
    return DoubleStream.of(values).boxed().toList();
  }

  private static void put(ObjectNode node, String name, double[] values) {
    ArrayNode array = node.putArray(name);
    for (double value : values) array.add(value);
  }

  private static byte[] series(PassMeasurement p) {
    return new Series.Writer()
        .add(p.excessPer10m(), Series.EXCESS_STEP)
        .add(p.profile().chainageM(), Series.LENGTH_STEP)
        .add(p.profile().offsetM(), Series.LENGTH_STEP)
        .add(p.profile().speedMps(), Series.SPEED_STEP)
        .add(p.profile().latitudeDeg(), Series.DEGREE_STEP)
        .add(p.profile().longitudeDeg(), Series.DEGREE_STEP)
        .bytes();
  }

  /** Empty for what is not a number. */
  static OptionalDouble known(double value) {
    return Double.isNaN(value) ? OptionalDouble.empty() : OptionalDouble.of(value);
  }
}
