package milewarden.store.file;

import java.time.Instant;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import milewarden.store.Id.BatchId;
import milewarden.store.Row;
import milewarden.store.Tx;

/**
 * Batches: what came in while the drop folder was busy. A batch tells once, at its end. It is open
 * while files come, closed when the folder has gone quiet, told when all of it is measured and
 * judged. Of several stations each has batches of its own.
 */
public final class Batches {
  private static final String OPEN =
      """
      select id from batch
       where closed_at is null and told_at is null and station = :me order by id limit 1""";
  private static final String BEGIN =
      """
      insert into batch (opened_at, station) values (:now, :me) returning id""";
  private static final String CLOSE =
      """
      update batch set closed_at = :now where closed_at is null and station = :me""";
  private static final String ADOPT =
      """
      update batch set station = :me where closed_at is null""";
  private static final String QUIET =
      """
      select not exists (select 1 from batch where closed_at is null)
         and not exists (select 1 from received_file where state = 'received')
         and not exists (select 1 from mark
                          where claimed_by is null or claimed_by <> '(unreadable)') as quiet""";
  private static final String TOLD =
      """
      update batch set told_at = :now where told_at is null and closed_at is not null""";
  private static final String LATEST =
      """
      select id, opened_at, closed_at, told_at from batch order by id desc limit 1""";
  private static final String STATES =
      """
      select state, count(*) as files from received_file where batch_id = :batch
       group by state order by state""";

  private Batches() {}

  /** A batch with its files counted by state. */
  public record Batch(
      BatchId id,
      Instant openedAt,
      Optional<Instant> closedAt,
      Optional<Instant> toldAt,
      Map<ReceivedFiles.State, Integer> files) {
    public Batch {
      files = Map.copyOf(files);
    }

    /** The files that are not worked off yet. */
    public int toDo() {
      return files.getOrDefault(ReceivedFiles.State.RECEIVED, 0);
    }
  }

  /** This station's open batch; begins one where there is none. */
  public static BatchId current(Tx tx) {
    return tx.query(OPEN)
        .bind("me", tx.station())
        .map(Row.as(r -> new BatchId(r.number("id"))))
        .findOne()
        .orElseGet(
            () ->
                tx.inserting(BEGIN)
                    .bind("now", tx.now())
                    .bind("me", tx.station())
                    .map(Row.as(r -> new BatchId(r.number("id"))))
                    .one());
  }

  /**
   * This station's drop folder has gone quiet: nothing in it is still growing or not yet received.
   */
  public static void close(Tx tx) {
    tx.update(CLOSE).bind("now", tx.now()).bind("me", tx.station()).execute();
  }

  /** At the start of the only server on this store: an open batch of another's is its own now. */
  public static void adopt(Tx tx) {
    tx.update(ADOPT).bind("me", tx.station()).execute();
  }

  /**
   * True when nothing is coming in, nothing waits to be measured and nothing to be judged but what
   * can't be, as a record is damaged: it may stay so for weeks, and the others' news go out.
   */
  public static boolean isQuiet(Tx tx) {
    return tx.query(QUIET).map(Row.as(r -> r.flag("quiet"))).one();
  }

  /** What is open is told: closed batches have had their message. */
  public static void told(Tx tx) {
    tx.update(TOLD).bind("now", tx.now()).execute();
  }

  /** The batch that began last. */
  public static Optional<Batch> latest(Tx tx) {
    return tx.query(LATEST)
        .map(
            Row.as(
                r -> {
                  BatchId id = new BatchId(r.number("id"));
                  return new Batch(
                      id,
                      r.instant("opened_at"),
                      r.instantIfAny("closed_at"),
                      r.instantIfAny("told_at"),
                      states(tx, id));
                }))
        .findOne();
  }

  private static Map<ReceivedFiles.State, Integer> states(Tx tx, BatchId batch) {
    Map<ReceivedFiles.State, Integer> counts = new EnumMap<>(ReceivedFiles.State.class);
    tx.query(STATES)
        .bind("batch", batch)
        .map(
            Row.as(r -> counts.put(r.choice("state", ReceivedFiles.State.class), r.count("files"))))
        .list();
    return counts;
  }
}
