package milewarden.store.judged;

import java.time.Duration;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import milewarden.store.Id.ModelId;
import milewarden.store.Id.RunId;
import milewarden.store.Row;
import milewarden.store.Tx;
import org.jdbi.v3.core.statement.PreparedBatch;

/** The models to judge: the queue of the review stage. */
public final class Marks {
  private static final String MARK =
      """
      insert into mark (model_id, generation, quiet, marked_at) values (:model, 1, :quiet, :now)
      on conflict (model_id) do update
         set generation = mark.generation + 1, quiet = mark.quiet and excluded.quiet""";
  private static final String OF_RUN =
      """
      select u.model_id from run r join unit u on u.id = r.unit_id where r.id in (<runs>)
      union
      select ou.model_id
        from run r
        join unit u on u.id = r.unit_id and u.control
        join run o on o.session_id = r.session_id
        join unit ou on ou.id = o.unit_id
       where r.id in (<runs>)
       order by 1""";
  private static final String ALL =
      """
      select id from model order by id""";
  private static final String UNJUDGED =
      """
      select m.id from model m left join judgement j on j.model_id = m.id
       where j.model_id is null or (j.judged_at < :before and j.engine_version = :engine)
       order by m.id""";
  private static final String JUDGED_OTHERWISE =
      """
      select model_id as id from judgement where engine_version <> :engine order by model_id""";
  private static final String LOOKS_THAT_WAITED =
      """
      select model_id as id from judgement
       where (again_at <= :now and again_at > judged_at)
          or (again_at is not null
              and not exists (select 1 from received_file where state = 'received')
              and (again_at <= :now
                   or judged_at < (select max(settled_at) from received_file)))
       order by model_id""";
  private static final String ON_COURSE =
      """
      select distinct u.model_id from run r join unit u on u.id = r.unit_id
       where r.course_slug = :course order by u.model_id""";
  private static final String NEXT =
      """
      select model_id, generation, quiet, claimed_by from mark
       where (claimed_until is null or claimed_until <= :now or claimed_until > :beyond)
         and model_id not in ("""
          + Recomputations.WAITING_MODELS
          + """
      )
       order by marked_at, model_id limit 1""";
  private static final String CLAIM =
      """
      update mark set claimed_until = :until, claimed_by = :me where model_id = :model""";
  // No station is called so: they are named by what is random.
  private static final String UNREADABLE = "(unreadable)";
  private static final String STOP =
      """
      update mark set claimed_until = :until, claimed_by = '"""
          + UNREADABLE
          + "' where model_id = :model and claimed_by = :me";
  private static final String STOPPED =
      """
      select model_id from mark where claimed_by = '"""
          + UNREADABLE
          + "' order by model_id";
  private static final String RELEASE_ALL =
      """
      update mark set claimed_until = null, claimed_by = null where claimed_until is not null""";
  private static final String HELD =
      """
      select exists (select 1 from mark where model_id = :model and claimed_by = :me) as held""";
  private static final String DONE =
      """
      delete from mark where model_id = :model and generation = :generation""";
  private static final String RELEASE =
      """
      update mark set claimed_until = null, claimed_by = null where model_id = :model""";
  private static final String COUNT =
      """
      select count(*) as marks from mark""";

  private Marks() {}

  /**
   * A model to judge.
   *
   * @param generation counts the reasons; a mark renewed while its model is judged stays
   * @param quiet true where results or judgements were made anew and nothing was run: nobody is
   *     told again of what he was told before
   * @param stopped true where it could not be judged the last time: see {@link #stop}
   */
  public record Mark(ModelId model, long generation, boolean quiet, boolean stopped) {}

  /** Marks a model because something about it changed. */
  public static void mark(Tx tx, ModelId model) {
    mark(tx, model, false);
  }

  /** As {@link #ofRun(Tx, RunId, boolean)} for a run that is new or was changed. */
  public static void ofRun(Tx tx, RunId run) {
    ofRun(tx, run, false);
  }

  /**
   * Marks the model of a run; for a control unit's run also the models that ran beside it.
   *
   * @param quiet true where results were made anew and nothing was run
   */
  public static void ofRun(Tx tx, RunId run, boolean quiet) {
    mark(tx, ofRuns(tx, List.of(run)), quiet);
  }

  /**
   * The models that are to be judged after these runs; more than the runs' own by control units.
   */
  public static List<ModelId> ofRuns(Tx tx, List<RunId> runs) {
    return runs.isEmpty() ? List.of() : models(tx.query(OF_RUN).bindList("runs", runs), "model_id");
  }

  /** Marks several models, as {@link #mark(Tx, ModelId, boolean)}. */
  public static void mark(Tx tx, Collection<ModelId> models, boolean quiet) {
    PreparedBatch batch = tx.batch(MARK);
    for (ModelId model : models) {
      tx.moving(model.value());
      batch.bind("model", model).bind("quiet", quiet).bind("now", tx.now()).add();
    }
    if (!models.isEmpty()) batch.execute();
  }

  /** Marks the models that ran on a course, after a new version of it. */
  public static void onCourse(Tx tx, String slug) {
    models(tx.query(ON_COURSE).bind("course", slug), "model_id")
        .forEach(model -> mark(tx, model, true));
  }

  /** Marks every model, after a new engine or policy: nothing is sent again. */
  public static void all(Tx tx) {
    models(tx.query(ALL), "id").forEach(model -> mark(tx, model, true));
  }

  /**
   * Marks the models that were not judged since {@code before} or not by this engine: what is due
   * depends on the date too.
   */
  public static void unjudged(Tx tx, Instant before, String engineVersion) {
    models(tx.query(UNJUDGED).bind("before", before).bind("engine", engineVersion), "id")
        .forEach(model -> mark(tx, model, false));
    models(tx.query(JUDGED_OTHERWISE).bind("engine", engineVersion), "id")
        .forEach(model -> mark(tx, model, true));
  }

  /**
   * Marks the models of which a look waited until now or until all was measured that is in, and
   * those whose sessions may have become whole by what came in since they were judged: another
   * model's recording that the sheet names marks only that one.
   */
  public static void looksThatWaited(Tx tx) {
    waited(tx).forEach(model -> mark(tx, model, false));
  }

  /** True where {@link #looksThatWaited} would mark a model. */
  public static boolean looksCanBeTaken(Tx tx) {
    return !waited(tx).isEmpty();
  }

  private static List<ModelId> waited(Tx tx) {
    return models(tx.query(LOOKS_THAT_WAITED).bind("now", tx.now()), "id");
  }

  /**
   * Marks a model.
   *
   * @param quiet true where results were made anew and nothing was run
   */
  public static void mark(Tx tx, ModelId model, boolean quiet) {
    tx.moving(model.value());
    tx.update(MARK).bind("model", model).bind("quiet", quiet).bind("now", tx.now()).execute();
  }

  private static List<ModelId> models(org.jdbi.v3.core.statement.Query query, String column) {
    return query.map(Row.as(r -> new ModelId(r.number(column)))).list();
  }

  /**
   * Takes the mark that has waited longest and that no other worker holds. A model of which runs
   * still wait for new results is left: half the evidence says nothing.
   */
  public static Optional<Mark> claim(Tx tx, Duration lease) {
    Optional<Mark> next =
        tx.query(NEXT)
            .bind("now", tx.now())
            .bind("beyond", tx.beyond())
            .map(
                Row.as(
                    r ->
                        new Mark(
                            new ModelId(r.number("model_id")),
                            r.number("generation"),
                            r.flag("quiet"),
                            r.has("claimed_by") && r.text("claimed_by").equals(UNREADABLE))))
            .findOne();
    next.ifPresent(
        mark ->
            tx.update(CLAIM)
                .bind("until", tx.now().plus(lease))
                .bind("me", tx.station())
                .bind("model", mark.model())
                .execute());
    return next;
  }

  /** At the start of the only server on this store: what a dead one had claimed is free again. */
  public static void releaseClaims(Tx tx) {
    tx.update(RELEASE_ALL).execute();
  }

  /** Whether a claimed mark is still this station's: its claim may have run out meanwhile. */
  public static boolean isHeld(Tx tx, Mark mark) {
    return tx.query(HELD)
        .bind("model", mark.model())
        .bind("me", tx.station())
        .map(Row.as(r -> r.flag("held")))
        .one();
  }

  /** Takes the mark away; one that was renewed meanwhile stays and is free to be claimed. */
  public static void done(Tx tx, Mark mark) {
    int gone =
        tx.update(DONE).bind("model", mark.model()).bind("generation", mark.generation()).execute();
    if (gone == 0) release(tx, mark.model());
  }

  /**
   * Puts a claimed mark by, as a record that its judging rests on can't be read. It is kept, and
   * nobody waits for it: a batch ends without it.
   *
   * @param until when it is tried again
   */
  public static void stop(Tx tx, Mark mark, Instant until) {
    tx.update(STOP)
        .bind("until", until)
        .bind("model", mark.model())
        .bind("me", tx.station())
        .execute();
  }

  /** The models whose marks were put by. */
  public static List<ModelId> stopped(Tx tx) {
    return models(tx.query(STOPPED), "model_id");
  }

  /** Gives a mark back, unjudged. */
  public static void release(Tx tx, ModelId model) {
    tx.update(RELEASE).bind("model", model).execute();
  }

  public static int count(Tx tx) {
    return tx.query(COUNT).map(Row.as(r -> r.count("marks"))).one();
  }
}
