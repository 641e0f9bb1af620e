package milewarden.store.judged;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import milewarden.store.ChangeRecord;
import milewarden.store.Id;
import milewarden.store.Id.ModelId;
import milewarden.store.Id.RunId;
import milewarden.store.Json;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.verdict.Policy;

/**
 * Results and judgements that are made anew because the engine, a course or the policy changed. The
 * queue is rows: a crash loses none of it, and what was queued already is not queued twice.
 */
public final class Recomputations {
  // Runs without results of this engine and the course version in force, and not queued yet.
  private static final String UNMEASURED =
      """
      not r.anew and not exists (
             select 1 from measurement ms
               join course_version cv
                 on cv.slug = ms.course_slug and cv.version = ms.course_version and cv.in_force
              where ms.run_id = r.id and ms.engine_version = :engine
                and ms.course_slug = r.course_slug)
      """;
  // Of runs that can be measured: a recording that was refused before is tried, and not counted.
  private static final String COUNT =
      "select count(*) as runs from run r left join received_file rf on rf.id = r.file_id where "
          + "(rf.id is null or rf.state = 'measured') and "
          + UNMEASURED;
  private static final String QUEUE_FILES =
      """
      update received_file
         set state = 'received', code = null, place = null, sentence = null, missing = '',
             settled_at = null, claimed_until = null, claimed_by = null, anew = true
       where state in ('measured', 'waiting', 'refused') and id in (select r.file_id from run r where r.file_id is not null
         and\s"""
          + UNMEASURED
          + ")";
  private static final String QUEUE_RUNS =
      """
      update run set anew = true
       where id in (select r.id from run r left join received_file rf on rf.id = r.file_id
                     where (rf.id is null or rf.state = 'received') and\s"""
          + UNMEASURED
          + ")";
  private static final String ADD =
      """
      insert into recomputation (queued_at, because, detail, engine_version, policy, runs)
      values (:now, :because, :detail, :engine, :policy, :runs)""";
  private static final String WITHOUT_FILE =
      """
      select id from run where anew and file_id is null order by id limit :limit""";
  private static final String IS_ANEW =
      """
      select anew from received_file where id = :file""";
  private static final String DONE =
      """
      update run set anew = false where id = :run and anew""";
  private static final String PENDING =
      """
      select count(*) as runs from run where anew""";

  /** The models that have a run, or a control unit's run beside one, that waits. */
  static final String WAITING_MODELS =
      """
      select u.model_id from run r join unit u on u.id = r.unit_id where r.anew
      union
      select ou.model_id
        from run r
        join unit u on u.id = r.unit_id and u.control
        join run o on o.session_id = r.session_id
        join unit ou on ou.id = o.unit_id
       where r.anew""";

  private static final String IS_WAITING = "select :model in (" + WAITING_MODELS + ") as waiting";
  private static final String LAST_POLICY =
      """
      select policy from recomputation where policy <> '' order by id desc limit 1""";
  private static final String LATEST =
      """
      select queued_at, because, detail, engine_version, runs from recomputation
       order by id desc limit :limit""";

  private Recomputations() {}

  /** Why results are made anew. */
  public enum Because {
    ENGINE,
    COURSE,
    POLICY,
    /** The first start on this store: nothing to make anew. */
    FIRST
  }

  /**
   * One cause that was noticed.
   *
   * @param detail the course, where it is one
   * @param runs that were queued
   */
  public record Queued(
      Instant at, Because because, String detail, String engineVersion, int runs) {}

  /**
   * Queues every run that this engine hasn't measured on the course's version in force.
   *
   * @return how many were queued now, without those that could not be measured before either
   */
  public static int queue(Tx tx, String engineVersion, Because because, String detail) {
    int runs =
        tx.query(COUNT).bind("engine", engineVersion).map(Row.as(r -> r.count("runs"))).one();
    tx.update(QUEUE_FILES).bind("engine", engineVersion).execute();
    tx.update(QUEUE_RUNS).bind("engine", engineVersion).execute();
    if (runs > 0) add(tx, because, detail, engineVersion, "", runs);
    return runs;
  }

  private static void add(
      Tx tx, Because because, String detail, String engine, String policy, int runs) {
    tx.update(ADD)
        .bind("now", tx.now())
        .bind("because", because)
        .bind("detail", detail)
        .bind("engine", engine)
        .bind("policy", policy)
        .bind("runs", runs)
        .execute();
  }

  /**
   * Marks every model, quietly, where the policy is not the one by which was judged last.
   *
   * @return true where it changed
   */
  public static boolean policy(Tx tx, Policy policy, String engineVersion) {
    String now = Json.write(policy);
    Optional<String> before = tx.query(LAST_POLICY).map(Row.as(r -> r.text("policy"))).findOne();
    if (before.isPresent() && before.get().equals(now)) return false;
    ChangeRecord.note(
        tx,
        ChangeRecord.What.POLICY,
        "policy",
        before.map(b -> Json.differences(b, now)).orElse("the first one"));
    add(tx, before.isPresent() ? Because.POLICY : Because.FIRST, "", engineVersion, now, 0);
    if (before.isPresent()) Marks.all(tx);
    return before.isPresent();
  }

  /** Queued runs that are known by a shown distance alone, oldest first. */
  public static List<RunId> withoutFile(Tx tx, int limit) {
    return tx.query(WITHOUT_FILE)
        .bind("limit", limit)
        .map(Row.as(r -> new RunId(r.number("id"))))
        .list();
  }

  /** True where a recording is measured again for its results alone: nobody said anything new. */
  public static boolean isAnew(Tx tx, Id.FileId file) {
    return tx.query(IS_ANEW).bind("file", file).map(Row.as(r -> r.flag("anew"))).one();
  }

  /** The run has its new results, or can't have any. */
  public static void done(Tx tx, RunId run) {
    tx.update(DONE).bind("run", run).execute();
  }

  /** The runs that still wait for their new results. */
  public static int pending(Tx tx) {
    return tx.query(PENDING).map(Row.as(r -> r.count("runs"))).one();
  }

  /** True while runs by which this model is judged wait for their new results. */
  public static boolean isPending(Tx tx, ModelId model) {
    return tx.query(IS_WAITING).bind("model", model).map(Row.as(r -> r.flag("waiting"))).one();
  }

  /** The causes that were noticed last, the latest first. */
  public static List<Queued> latest(Tx tx, int limit) {
    return tx.query(LATEST)
        .bind("limit", limit)
        .map(
            Row.as(
                r ->
                    new Queued(
                        r.instant("queued_at"),
                        r.choice("because", Because.class),
                        r.text("detail"),
                        r.text("engine_version"),
                        r.count("runs"))))
        .list();
  }
}
