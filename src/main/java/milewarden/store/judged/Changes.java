package milewarden.store.judged;

import milewarden.store.Tx;
import milewarden.store.Row;

import java.util.List;

/** Whether anything moved since somebody looked: what an open page asks. */
public final class Changes {
  // Counts tell what came and went, times what was done again; both are cheap beside a page.
  private static final String TRACES =
      """
      select 'file' as what, state as part, count(*) as rows_, coalesce(max(settled_at), '') as at
        from received_file group by state
      union all select 'batch', '', count(*), coalesce(max(closed_at), '') from batch
      union all select 'course', '', count(*), coalesce(max(added_at), '') from course_version
      union all select 'problem', '', count(*), coalesce(max(found_at), '') from course_problem
      union all select 'run', '', count(*), coalesce(max(changed_at), '') from run
      union all select 'measurement', '', count(*), coalesce(max(measured_at), '') from measurement
      union all select 'exclusion', '', count(lifted_at), coalesce(max(excluded_at), '') from exclusion
      union all select 'judgement', '', count(*), coalesce(max(judged_at), '') from judgement
      union all select 'due', '', count(*) + count(closed_at), coalesce(max(raised_at), '') from due_item
      union all select 'verdict', '', count(*), coalesce(max(published_at), '') from verdict
      union all select 'withdrawal', '', count(*), coalesce(max(withdrawn_at), '') from withdrawal
      union all select 'message', state, count(*), coalesce(max(next_try_at), '') from outbox group by state
      order by 1, 2""";

  private Changes() {}

  /** A text that differs whenever a page may have to say something else. */
  public static String trace(Tx tx) {
    List<String> traces =
        tx.query(TRACES)
            .map(
                Row.as(
                    r ->
                        r.text("what")
                            + " "
                            + r.text("part")
                            + " "
                            + r.count("rows_")
                            + " "
                            + r.text("at")))
            .list();
    return String.join("\n", traces);
  }
}
