package milewarden.store.judged;

import java.sql.SQLException;
import java.time.Instant;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import milewarden.store.Id.ModelId;
import milewarden.store.Json;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.store.Unreadable;
import milewarden.units.PercentRange;
import milewarden.verdict.Comparison;
import milewarden.verdict.Look;
import milewarden.verdict.ModelBrief;
import milewarden.verdict.ModelExcerpt;
import milewarden.verdict.ModelJudgement;

/** The latest judgement of each model, its comparisons in columns, and every look ever taken. */
public final class Judgements {
  private static final String PUT =
      """
      insert into judgement (model_id, judged_at, engine_version, judgement, brief, brief_at,
                             again_at)
      values (:model, :at, :engine, :judgement, :brief, :at, :again)
      on conflict (model_id) do update
         set judged_at = excluded.judged_at, engine_version = excluded.engine_version,
             judgement = excluded.judgement, brief = excluded.brief, brief_at = excluded.brief_at,
             again_at = excluded.again_at""";
  private static final String FIND =
      """
      select model_id, judged_at from judgement where model_id = :model""";
  private static final String TEXT =
      """
      select judgement from judgement where model_id = :model""";
  private static final String ALL =
      """
      select j.model_id, j.judged_at from judgement j join model m on m.id = j.model_id
       order by m.name, m.id""";
  private static final String DROP_COMPARISONS =
      """
      delete from comparison where model_id = :model""";
  private static final String ADD_COMPARISON =
      """
      insert into comparison (model_id, position, candidate, baseline, against, outcome, because,
                              candidate_sessions, baseline_sessions, difference_percent,
                              low_percent, high_percent)
      values (:model, :position, :candidate, :baseline, :against, :outcome, :because,
              :candidateSessions, :baselineSessions, :difference, :low, :high)""";
  private static final String COMPARISONS =
      """
      select candidate, baseline, outcome, because, candidate_sessions, baseline_sessions,
             difference_percent, low_percent, high_percent
        from comparison where model_id = :model order by position""";
  private static final String ADD_LOOK =
      """
      insert into look (model_id, candidate, baseline, against, number, taken_at, beside, re_look,
                        look)
      values (:model, :candidate, :baseline, :against, :number, :at, :beside, :reLook, :look)
      on conflict (model_id, candidate, baseline, against, number, taken_at, beside) do nothing""";
  private static final String KEPT =
      """
      select candidate, baseline, against, number, taken_at, beside
        from look where model_id = :model""";
  private static final String LOOKS =
      """
      select look from look where model_id = :model order by taken_at, id""";

  private Judgements() {}

  /** Replaces the model's judgement; looks are added to those taken before. */
  public static void put(Tx tx, ModelId model, ModelJudgement judgement) {
    tx.judging(model.value());
    tx.update(PUT)
        .bind("model", model)
        .bind("at", judgement.judgedAt())
        .bind("engine", judgement.engineVersion())
        .bind("judgement", Json.write(judgement))
        .bind("brief", brief(judgement))
        .bind("again", judgement.waitsUntil())
        .execute();
    tx.update(DROP_COMPARISONS).bind("model", model).execute();
    int position = 0;
    for (Comparison c : judgement.comparisons()) add(tx, model, position++, c);
    Set<Kept> kept = kept(tx, model);
    for (Look look : judgement.looks()) if (!kept.contains(Kept.of(look))) add(tx, model, look);
    UnitVariances.put(tx, model, judgement.units());
  }

  /** Read of an excerpt: the whole text has megabytes, and the writer's turn is short. */
  private static String brief(ModelJudgement judgement) {
    String excerpt = Json.write(ModelExcerpt.of(judgement, 1).judged());
    return Json.write(Json.read(excerpt, ModelBrief.class));
  }

  private static void add(Tx tx, ModelId model, int position, Comparison c) {
    Optional<PercentRange> interval = c.estimate().map(Comparison.Estimate::interval);
    tx.update(ADD_COMPARISON)
        .bind("model", model)
        .bind("position", position)
        .bind("candidate", c.candidate())
        .bind("baseline", c.baseline())
        .bind("against", c.against())
        .bind("outcome", c.outcome())
        .bind("because", c.because())
        .bind("candidateSessions", c.candidateSessions())
        .bind("baselineSessions", c.baselineSessions())
        .bind("difference", c.estimate().map(Comparison.Estimate::percent))
        .bind("low", interval.map(PercentRange::low))
        .bind("high", interval.map(PercentRange::high))
        .execute();
  }

  /** What no two looks of a model have alike: one that is there is not written again. */
  private record Kept(
      String candidate,
      String baseline,
      Comparison.Against against,
      int number,
      Instant takenAt,
      boolean beside) {
    static Kept of(Look look) {
      return new Kept(
          look.candidate(),
          look.baseline(),
          look.against(),
          look.number(),
          look.takenAt(),
          look.beside());
    }
  }

  private static Set<Kept> kept(Tx tx, ModelId model) {
    return new HashSet<>(
        tx.query(KEPT)
            .bind("model", model)
            .map(
                Row.as(
                    r ->
                        new Kept(
                            r.text("candidate"),
                            r.text("baseline"),
                            r.choice("against", Comparison.Against.class),
                            r.count("number"),
                            r.instant("taken_at"),
                            r.flag("beside"))))
            .list());
  }

  private static void add(Tx tx, ModelId model, Look look) {
    tx.update(ADD_LOOK)
        .bind("model", model)
        .bind("candidate", look.candidate())
        .bind("baseline", look.baseline())
        .bind("against", look.against())
        .bind("number", look.number())
        .bind("at", look.takenAt())
        .bind("beside", look.beside())
        .bind("reLook", look.reLook())
        .bind("look", Json.write(look))
        .execute();
  }

  /** Empty where the model was never judged. */
  public static Optional<ModelJudgement> find(Tx tx, ModelId model) {
    return tx.query(FIND).bind("model", model).map(Row.as(r -> read(tx, r))).findOne();
  }

  /** The same with the newest sessions of each release alone, for a page. */
  public static Optional<ModelExcerpt> excerpt(Tx tx, ModelId model) {
    return tx.query(FIND)
        .bind("model", model)
        .map(Row.as(r -> tx.excerpt(model.value(), r.text("judged_at"), () -> text(tx, model))))
        .findOne();
  }

  /** Empty also where it can't be read: for what is shown without it, too. */
  public static Optional<ModelJudgement> findReadable(Tx tx, ModelId model) {
    try {
      return find(tx, model);
    } catch (Unreadable e) {
      return Optional.empty();
    }
  }

  private static ModelJudgement read(Tx tx, Row r) throws SQLException {
    ModelId model = new ModelId(r.number("model_id"));
    return tx.judgement(model.value(), r.text("judged_at"), () -> text(tx, model));
  }

  static String text(Tx tx, ModelId model) {
    return tx.query(TEXT).bind("model", model).map(Row.as(t -> t.text("judgement"))).one();
  }

  /** The judgements of all models that have one, by the models' names. */
  public static Map<ModelId, ModelJudgement> all(Tx tx) {
    Map<ModelId, ModelJudgement> all = new LinkedHashMap<>();
    tx.query(ALL).map(Row.as(r -> all.put(new ModelId(r.number("model_id")), read(tx, r)))).list();
    return all;
  }

  /** The models that have a judgement, by their names. */
  public static List<ModelId> models(Tx tx) {
    return tx.query(ALL).map(Row.as(r -> new ModelId(r.number("model_id")))).list();
  }

  /** False where the model's judgement is damaged. None is kept in memory. */
  public static boolean isReadable(Tx tx, ModelId model) {
    return tx.query(TEXT)
        .bind("model", model)
        .map(Row.as(r -> tx.readBefore().isReadable(model.value(), r.text("judgement"))))
        .findOne()
        .orElse(true);
  }

  /**
   * What is known of a comparison without the judgement that it is part of.
   *
   * @param interval of the difference, at 95 %
   */
  public record Compared(
      String candidate,
      String baseline,
      Comparison.Outcome outcome,
      Comparison.Because because,
      int candidateSessions,
      int baselineSessions,
      OptionalDouble differencePercent,
      Optional<PercentRange> interval) {}

  /** The comparisons of a model's judgement, readable or not, in its order. */
  public static List<Compared> compared(Tx tx, ModelId model) {
    return tx.query(COMPARISONS).bind("model", model).map(Row.as(Judgements::compared)).list();
  }

  private static Compared compared(Row r) throws SQLException {
    OptionalDouble low = r.realIfAny("low_percent");
    OptionalDouble high = r.realIfAny("high_percent");
    return new Compared(
        r.text("candidate"),
        r.text("baseline"),
        r.choice("outcome", Comparison.Outcome.class),
        r.choice("because", Comparison.Because.class),
        r.count("candidate_sessions"),
        r.count("baseline_sessions"),
        r.realIfAny("difference_percent"),
        low.isPresent() && high.isPresent()
            ? Optional.of(new PercentRange(low.getAsDouble(), high.getAsDouble()))
            : Optional.empty());
  }

  /** All looks that were ever taken at a model's releases, in order of time. */
  public static List<Look> looks(Tx tx, ModelId model) {
    return tx.query(LOOKS)
        .bind("model", model)
        .map(Row.as(r -> Json.read(r.text("look"), Look.class)))
        .list();
  }
}
