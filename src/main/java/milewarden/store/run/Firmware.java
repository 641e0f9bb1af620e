package milewarden.store.run;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import milewarden.device.FirmwareRelease;
import milewarden.store.Id.FirmwareId;
import milewarden.store.Id.ModelId;
import milewarden.store.Id.UnitId;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.verdict.ModelHistory;

/** The firmware releases of the models, in order of their dates. */
public final class Firmware {
  private static final String COLUMNS =
      """
      select id, model_id, version, released_on, assumed from firmware
      """;
  private static final String OF_MODEL =
      COLUMNS + " where model_id = :model order by released_on, id";
  private static final String ALL = COLUMNS + " order by model_id, released_on, id";
  private static final String BY_ID = COLUMNS + " where id = :id";
  private static final String BY_VERSION =
      COLUMNS + " where model_id = :model and version = :version";
  private static final String RELEASES =
      """
      select f.version, f.released_on, f.assumed, f.added_at,
             (select min(r.started_at) from run r where r.firmware_id = f.id) as first_run
        from firmware f where f.model_id = :model order by f.released_on, f.id""";
  private static final String ADD =
      """
      insert into firmware (model_id, version, released_on, assumed, added_at)
      values (:model, :version, :date, :assumed, :now) returning id""";
  private static final String DATE =
      """
      update firmware set released_on = :date, assumed = :assumed where id = :id""";
  private static final String RUN_AT_VERSIONS =
      """
      select distinct f.version, f.released_on, f.assumed
        from run r join firmware f on f.id = r.firmware_id
       where r.unit_id = :unit and f.model_id <> :model order by f.released_on, f.version""";
  private static final String RELINK =
      """
      update run set firmware_id = :firmware
       where unit_id = :unit
         and firmware_id in (select id from firmware where version = :version)""";

  private Firmware() {}

  /** A release with its row. */
  public record Known(FirmwareId id, ModelId model, FirmwareRelease release) {
    public String version() {
      return release.version();
    }
  }

  /** A model's releases, earliest first. */
  public static List<Known> of(Tx tx, ModelId model) {
    return tx.query(OF_MODEL).bind("model", model).map(Row.as(Firmware::read)).list();
  }

  /**
   * A model's releases as the judge takes them, earliest first, each with when it was first seen.
   */
  public static List<ModelHistory.Release> releases(Tx tx, ModelId model) {
    return tx.query(RELEASES)
        .bind("model", model)
        .map(
            Row.as(
                r ->
                    new ModelHistory.Release(
                        new FirmwareRelease(
                            r.text("version"), r.date("released_on"), r.flag("assumed")),
                        Optional.of(r.instantIfAny("first_run").orElse(r.instant("added_at"))))))
        .list();
  }

  /** The releases of all models, by model and date. */
  public static List<Known> all(Tx tx) {
    return tx.unwritten(ALL, () -> List.copyOf(tx.query(ALL).map(Row.as(Firmware::read)).list()));
  }

  public static Optional<Known> find(Tx tx, FirmwareId id) {
    return tx.query(BY_ID).bind("id", id).map(Row.as(Firmware::read)).findOne();
  }

  public static Optional<Known> find(Tx tx, ModelId model, String version) {
    return tx.query(BY_VERSION)
        .bind("model", model)
        .bind("version", version.strip())
        .map(Row.as(Firmware::read))
        .findOne();
  }

  /**
   * A release that a recording of this local date ran on: made where it is new, dated by its first
   * session and marked assumed until the tester dates it.
   */
  public static Known seen(Tx tx, ModelId model, String version, LocalDate date) {
    Optional<Known> known = find(tx, model, version);
    if (known.isEmpty()) return add(tx, model, version, date, true);
    FirmwareRelease release = known.get().release();
    if (!release.assumed() || !date.isBefore(release.date())) return known.get();
    return date(tx, known.get(), date, true);
  }

  /** The tester dates a release, or names one that nobody has tested. */
  public static Known register(Tx tx, ModelId model, String version, LocalDate date) {
    Optional<Known> known = find(tx, model, version);
    return known.isEmpty()
        ? add(tx, model, version, date, false)
        : date(tx, known.get(), date, false);
  }

  /** After a unit went to another model: its runs name that model's release of the same version. */
  static void follow(Tx tx, UnitId unit, ModelId model) {
    List<FirmwareRelease> releases =
        tx.query(RUN_AT_VERSIONS)
            .bind("unit", unit)
            .bind("model", model)
            .map(
                Row.as(
                    r ->
                        new FirmwareRelease(
                            r.text("version"), r.date("released_on"), r.flag("assumed"))))
            .list();
    for (FirmwareRelease release : releases) {
      Known known =
          release.assumed()
              ? seen(tx, model, release.version(), release.date())
              : find(tx, model, release.version())
                  .orElseGet(() -> add(tx, model, release.version(), release.date(), false));
      tx.update(RELINK)
          .bind("firmware", known.id())
          .bind("unit", unit)
          .bind("version", release.version())
          .execute();
    }
  }

  private static Known add(Tx tx, ModelId model, String version, LocalDate date, boolean assumed) {
    FirmwareRelease release = new FirmwareRelease(version.strip(), date, assumed);
    FirmwareId id =
        tx.inserting(ADD)
            .bind("model", model)
            .bind("version", release.version())
            .bind("date", date)
            .bind("assumed", assumed)
            .bind("now", tx.now())
            .map(Row.as(r -> new FirmwareId(r.number("id"))))
            .one();
    return new Known(id, model, release);
  }

  private static Known date(Tx tx, Known known, LocalDate date, boolean assumed) {
    tx.update(DATE).bind("id", known.id()).bind("date", date).bind("assumed", assumed).execute();
    return new Known(
        known.id(), known.model(), new FirmwareRelease(known.version(), date, assumed));
  }

  private static Known read(Row r) throws java.sql.SQLException {
    return new Known(
        new FirmwareId(r.number("id")),
        new ModelId(r.number("model_id")),
        new FirmwareRelease(r.text("version"), r.date("released_on"), r.flag("assumed")));
  }
}
