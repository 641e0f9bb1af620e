package milewarden.store.run;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import milewarden.store.Id.ExclusionId;
import milewarden.store.Id.RunId;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.store.file.Tags;
import milewarden.verdict.PassEvidence.Exclusion;

/** Passes that do not count, each for a reason from the list; lifted, never deleted. */
public final class Exclusions {
  private static final String ADD =
      """
      insert into exclusion (run_id, pass, reason, excluded_by, excluded_at, words)
      values (:run, :pass, :reason, :by, :at, :words)""";
  private static final String LIFT =
      """
      update exclusion set lifted_by = :by, lifted_at = :now
       where run_id = :run and pass = :pass and lifted_at is null""";
  private static final String OF_RUN =
      """
      select id, pass, reason, excluded_by, excluded_at, words, lifted_by, lifted_at
        from exclusion where run_id = :run order by id""";

  private Exclusions() {}

  /**
   * One exclusion.
   *
   * @param pass from 1, or {@link Tags#WHOLE}
   */
  public record Excluded(
      ExclusionId id,
      int pass,
      Exclusion exclusion,
      Optional<String> liftedBy,
      Optional<Instant> liftedAt) {}

  /** Leaves a pass out; one that stands for the same pass is lifted first. */
  public static void exclude(
      Tx tx, RunId run, int pass, Exclusion.Reason reason, String by, String words) {
    lift(tx, run, pass, by);
    tx.update(ADD)
        .bind("run", run)
        .bind("pass", pass)
        .bind("reason", reason)
        .bind("by", by)
        .bind("at", tx.now())
        .bind("words", words)
        .execute();
  }

  /** Lets a pass count again. */
  public static void lift(Tx tx, RunId run, int pass, String by) {
    tx.update(LIFT)
        .bind("run", run)
        .bind("pass", pass)
        .bind("by", by)
        .bind("now", tx.now())
        .execute();
  }

  /** All exclusions of a run, also lifted ones, in order of time. */
  public static List<Excluded> of(Tx tx, RunId run) {
    return tx.query(OF_RUN)
        .bind("run", run)
        .map(
            Row.as(
                r ->
                    new Excluded(
                        new ExclusionId(r.number("id")),
                        r.count("pass"),
                        read(r),
                        r.textIfAny("lifted_by"),
                        r.instantIfAny("lifted_at"))))
        .list();
  }

  /** The exclusion in a row that has its columns. */
  static Exclusion read(Row r) throws java.sql.SQLException {
    return new Exclusion(
        r.choice("reason", Exclusion.Reason.class),
        r.text("excluded_by"),
        r.instant("excluded_at"),
        r.text("words"));
  }
}
