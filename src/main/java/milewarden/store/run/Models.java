package milewarden.store.run;

import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;
import milewarden.store.Id.ModelId;
import milewarden.store.Id.UnitId;
import milewarden.store.Row;
import milewarden.store.Tx;

/** Device models and their units. Named for the first time, they are made. */
public final class Models {
  private static final String ALL =
      """
      select id, name, added_at from model order by name, id""";
  private static final String BY_ID =
      """
      select id, name, added_at from model where id = :id""";
  private static final String BY_NAME =
      """
      select id, name, added_at from model where lower(name) = lower(:name)""";
  private static final String ADD =
      """
      insert into model (name, added_at) values (:name, :now) returning id""";
  private static final String UNIT_COLUMNS =
      """
      select u.id, u.model_id, m.name as model_name, u.name, u.control, u.added_at
        from unit u join model m on m.id = u.model_id""";
  private static final String UNITS = UNIT_COLUMNS + " order by m.name, u.name, u.id";
  private static final String UNITS_OF =
      UNIT_COLUMNS + " where u.model_id = :model order by u.name, u.id";
  private static final String UNIT_BY_ID = UNIT_COLUMNS + " where u.id = :id";
  private static final String UNIT_BY_NAME = UNIT_COLUMNS + " where lower(u.name) = lower(:name)";
  private static final String ADD_UNIT =
      """
      insert into unit (model_id, name, control, added_at)
      values (:model, :name, :control, :now) returning id""";
  // Said again with every recording of some sheets: what stands already moves nothing.
  private static final String CONTROL =
      """
      update unit set control = :control where id = :id and control <> :control""";
  private static final String MOVE =
      """
      update unit set model_id = :model where id = :id""";

  private static final String MOVED = "select id, moved from model order by id";

  private Models() {}

  public record Model(ModelId id, String name, Instant addedAt) {}

  /**
   * A physical device.
   *
   * @param control its firmware is left alone and it is carried in every session
   */
  public record Unit(
      UnitId id, ModelId model, String modelName, String name, boolean control, Instant addedAt) {}

  /** All models by name. */
  public static List<Model> all(Tx tx) {
    return tx.query(ALL).map(Row.as(Models::read)).list();
  }

  public static Optional<Model> find(Tx tx, ModelId id) {
    return tx.query(BY_ID).bind("id", id).map(Row.as(Models::read)).findOne();
  }

  /**
   * A text that differs whenever something moved that answers about these models rest on: a pass, a
   * release, a condition, or anything beside them that isn't known to leave them as they are.
   */
  public static String moved(Tx tx, Collection<ModelId> models) {
    Map<Long, Long> all = moved(tx);
    return models.stream()
        .map(m -> m.value() + " " + all.getOrDefault(m.value(), 0L))
        .collect(Collectors.joining("\n"));
  }

  /** The same of all models. */
  public static String allMoved(Tx tx) {
    return new TreeMap<>(moved(tx)).toString();
  }

  private static Map<Long, Long> moved(Tx tx) {
    return tx.unwritten(
        MOVED,
        () ->
            tx
                .query(MOVED)
                .map(Row.as(r -> Map.entry(r.number("id"), r.number("moved"))))
                .list()
                .stream()
                .collect(Collectors.toUnmodifiableMap(Map.Entry::getKey, Map.Entry::getValue)));
  }

  /** Names of the models with these ids, in their order. */
  public static List<String> names(Tx tx, List<ModelId> ids) {
    return ids.stream().flatMap(id -> find(tx, id).stream()).map(Model::name).toList();
  }

  /** By name, in any case. */
  public static Optional<Model> find(Tx tx, String name) {
    return tx.query(BY_NAME).bind("name", name.strip()).map(Row.as(Models::read)).findFirst();
  }

  /** The model of this name, made where it is new. */
  public static Model named(Tx tx, String name) {
    return find(tx, name)
        .orElseGet(
            () ->
                new Model(
                    tx.inserting(ADD)
                        .bind("name", name.strip())
                        .bind("now", tx.now())
                        .map(Row.as(r -> new ModelId(r.number("id"))))
                        .one(),
                    name.strip(),
                    tx.now()));
  }

  /** All units by model and name. */
  public static List<Unit> units(Tx tx) {
    return tx.unwritten(
        UNITS, () -> List.copyOf(tx.query(UNITS).map(Row.as(Models::readUnit)).list()));
  }

  public static List<Unit> units(Tx tx, ModelId model) {
    return tx.query(UNITS_OF).bind("model", model).map(Row.as(Models::readUnit)).list();
  }

  public static Optional<Unit> findUnit(Tx tx, UnitId id) {
    return tx.query(UNIT_BY_ID).bind("id", id).map(Row.as(Models::readUnit)).findOne();
  }

  /** By name, in any case. */
  public static Optional<Unit> findUnit(Tx tx, String name) {
    return tx.query(UNIT_BY_NAME)
        .bind("name", name.strip())
        .map(Row.as(Models::readUnit))
        .findFirst();
  }

  /** The unit of this name; where it is new it is made, with this model. */
  public static Unit unit(Tx tx, String name, String model) {
    Optional<Unit> known = findUnit(tx, name);
    if (known.isPresent()) return known.get();
    Model its = named(tx, model);
    UnitId id =
        tx.inserting(ADD_UNIT)
            .bind("model", its.id())
            .bind("name", name.strip())
            .bind("control", false)
            .bind("now", tx.now())
            .map(Row.as(r -> new UnitId(r.number("id"))))
            .one();
    return new Unit(id, its.id(), its.name(), name.strip(), false, tx.now());
  }

  public static void control(Tx tx, UnitId id, boolean control) {
    tx.update(CONTROL).bind("id", id).bind("control", control).execute();
  }

  /** The tester says of which model a unit is; its runs follow, with their firmware by version. */
  public static void move(Tx tx, UnitId id, ModelId model) {
    tx.update(MOVE).bind("id", id).bind("model", model).execute();
    Firmware.follow(tx, id, model);
  }

  private static Model read(Row r) throws java.sql.SQLException {
    return new Model(new ModelId(r.number("id")), r.text("name"), r.instant("added_at"));
  }

  private static Unit readUnit(Row r) throws java.sql.SQLException {
    return new Unit(
        new UnitId(r.number("id")),
        new ModelId(r.number("model_id")),
        r.text("model_name"),
        r.text("name"),
        r.flag("control"),
        r.instant("added_at"));
  }
}
