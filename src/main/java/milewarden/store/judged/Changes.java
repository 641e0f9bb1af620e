package milewarden.store.judged;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;
import milewarden.store.Id.ModelId;
import milewarden.store.Remembered;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.store.run.Models;

/** Whether anything moved since somebody looked: what an open page asks. */
public final class Changes {
  // Counts tell what came and went, times what was done again; both are cheap beside a page. Of
  // files, runs and measurements there are most: none ever goes, and the last that came and the
  // last that moved are each found by an index. Measured files are most of all files, and are not
  // counted: one that becomes or ceases to be one is the newest, or leaves or joins another state.
  private static final String TRACES =
      """
      select 'file' as what, s.state as part,
             case s.state when 'measured' then (select coalesce(max(id), 0) from received_file)
               else (select count(*) from received_file f where f.state = s.state) end as rows_,
             coalesce((select max(f.settled_at) from received_file f where f.state = s.state), '')
               as at
        from (select 'received' as state union all select 'measured' union all select 'waiting'
              union all select 'refused' union all select 'duplicate') s
      union all select 'batch', '', count(*), coalesce(max(closed_at), '') from batch
      union all select 'course', '', count(*), coalesce(max(added_at), '') from course_version
      union all select 'problem', '', count(*), coalesce(max(found_at), '') from course_problem
      union all select 'run', '', (select coalesce(max(id), 0) from run),
                       (select coalesce(max(changed_at), '') from run)
      union all select 'measurement', '', (select coalesce(max(id), 0) from measurement),
                       (select coalesce(max(measured_at), '') from measurement)
      union all select 'exclusion', '', count(lifted_at), coalesce(max(excluded_at), '') from exclusion
      union all select 'judgement', '', count(*), coalesce(max(judged_at), '') from judgement
      union all select 'due', '', count(*) + count(closed_at), coalesce(max(raised_at), '') from due_item
      union all select 'verdict', '', count(*), coalesce(max(published_at), '') from verdict
      union all select 'withdrawal', '', count(*), coalesce(max(withdrawn_at), '') from withdrawal
      union all select 'message', state, count(*), coalesce(max(next_try_at), '') from outbox group by state
      order by 1, 2""";

  private Changes() {}

  /**
   * What {@code work} answers, or what it answered before where nothing in the store has changed
   * since: for what takes long and is asked for again and again.
   *
   * @param kind of the answer, which {@code about} tells from others of its kind
   * @param work depends on the store and on {@code about} alone
   */
  public static <T> T unchanged(Tx tx, Class<T> kind, Object about, Supplier<T> work) {
    // In its midst nothing is settled, and a connection doesn't see its own changes as changes.
    if (tx.writes()) return work.get();
    Remembered remembered = tx.readBefore().remembered;
    // Counted before the trace is read: a change between them makes the answer old, never wrong.
    String own = remembered.changes() + "\n";
    return kind.cast(remembered.answer(List.of(kind, about), own + trace(tx), work::get));
  }

  /**
   * The same for an answer that rests on the evidence of some models alone: it outlives what comes
   * in on others.
   *
   * @param work depends on the passes, releases and conditions of these models, as the judge is
   *     handed them, and on {@code about}; not on files, judgements, due items or the time
   */
  public static <T> T unmoved(
      Tx tx, Collection<ModelId> models, Class<T> kind, Object about, Supplier<T> work) {
    return unmoved(tx, models, "", kind, about, work);
  }

  /**
   * As {@link #unmoved(Tx, Collection, Class, Object, Supplier)}, where the work rests on something
   * else as well.
   *
   * @param besides what that is now, as a text that differs where it does
   */
  public static <T> T unmoved(
      Tx tx,
      Collection<ModelId> models,
      String besides,
      Class<T> kind,
      Object about,
      Supplier<T> work) {
    if (tx.writes()) return work.get();
    String trace = besides + "\n" + Models.moved(tx, models);
    return kind.cast(tx.readBefore().remembered.answer(List.of(kind, about), trace, work::get));
  }

  /** What was answered last, whatever has changed since: for who says so beside it. */
  public static <T> Optional<T> last(Tx tx, Class<T> kind, Object about) {
    return tx.readBefore().remembered.last(List.of(kind, about)).map(kind::cast);
  }

  /** True where somebody else waits for this answer of {@link #unchanged} that is in the making. */
  public static boolean isAwaited(Tx tx, Class<?> kind, Object about) {
    return tx.readBefore().remembered.isAwaited(List.of(kind, about));
  }

  /** A text that differs whenever a page may have to say something else. */
  public static String trace(Tx tx) {
    if (tx.writes()) return read(tx);
    return tx.unwritten(Changes.class, () -> read(tx));
  }

  private static String read(Tx tx) {
    List<String> traces =
        tx.query(TRACES)
            .map(
                Row.as(
                    r ->
                        r.text("what")
                            + " "
                            + r.text("part")
                            + " "
                            + r.number("rows_")
                            + " "
                            + r.text("at")))
            .list();
    return String.join("\n", traces);
  }
}
