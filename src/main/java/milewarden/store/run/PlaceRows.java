package milewarden.store.run;

import java.sql.SQLException;
import java.util.Arrays;
import java.util.List;
import milewarden.course.Direction;
import milewarden.course.SkyView;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.store.Id.ModelId;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.verdict.Condition;
import milewarden.verdict.place.PlacedPass;

/**
 * Passes with their excess by place: a model's own under two releases, and those of the control
 * units carried in the same sessions. Only such as count and have a track on the course.
 */
public final class PlaceRows {
  private static final String OF_RELEASES =
      """
      select s.name as session_name, s.first_start, m.name as model_name, u.name as unit_name,
             u.control, f.version as firmware, cv.slug, cv.version, cv.site, cv.length_m,
             r.carriage, r.gait, r.settings, res.direction, res.laps, res.series
        from run r
        join unit u on u.id = r.unit_id
        join model m on m.id = u.model_id
        join firmware f on f.id = r.firmware_id
        join session s on s.id = r.session_id
      """
          + Counting.RESULTS
          + """
       where r.held_for is null and res.series is not null and res.on_course
         and res.track_resolvable
         and not exists (
             select 1 from exclusion y
              where y.run_id = r.id and y.lifted_at is null and y.pass in (0, res.pass))
         and (u.control or (u.model_id = :model and f.version in (:candidate, :baseline)))
         and r.session_id in (
             select own.session_id from run own
               join unit ou on ou.id = own.unit_id
               join firmware of on of.id = own.firmware_id
              where ou.model_id = :model and of.version in (:candidate, :baseline))
       order by s.first_start, s.name, u.name, r.started_at, r.id, res.pass""";

  private PlaceRows() {}

  /** In order of session, unit, time and pass. */
  public static List<PlacedPass> of(
      Tx tx, ModelId model, String candidate, String baseline, String engineVersion) {
    return tx.query(OF_RELEASES)
        .bind("model", model)
        .bind("candidate", candidate)
        .bind("baseline", baseline)
        .bind("engine", engineVersion)
        .map(Row.as(PlaceRows::read))
        .list();
  }

  private static PlacedPass read(Row r) throws SQLException {
    double[] excess = new Series.Reader(r.bytes("series")).next(Series.EXCESS_STEP);
    return new PlacedPass(
        r.text("session_name"),
        r.instant("first_start"),
        r.text("model_name"),
        r.text("unit_name"),
        r.flag("control"),
        r.text("firmware"),
        new Condition(
            r.text("slug"),
            r.text("version"),
            r.choice("site", SkyView.class),
            r.choice("carriage", Carriage.class),
            r.choice("gait", Gait.class),
            r.text("settings")),
        r.choice("direction", Direction.class),
        Math.max(1, r.count("laps")),
        r.real("length_m"),
        Arrays.stream(excess).boxed().toList());
  }
}
