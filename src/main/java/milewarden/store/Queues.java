package milewarden.store;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** How long each stage's queue is, and how old what waits longest in it. */
public final class Queues {
  /** One queue, in the order in which a file goes through them. */
  public enum Queue {
    /** Files whose bytes are kept and that are not measured yet. */
    FILES_RECEIVED(
        "select count(*) as n, min(received_at) as at from received_file where state = 'received'"),
    /** Files that wait for a tag: for people. */
    FILES_WAITING(
        "select count(*) as n, min(received_at) as at from received_file where state = 'waiting'"),
    MODELS_TO_JUDGE("select count(*) as n, min(marked_at) as at from mark"),
    MESSAGES_QUEUED(
        "select count(*) as n, min(created_at) as at from outbox where state = 'queued'");

    private final String sql;

    Queue(String sql) {
      this.sql = sql;
    }
  }

  /**
   * The state of a queue.
   *
   * @param oldest since when the first waits; empty where none does
   */
  public record State(Queue queue, int length, Optional<Instant> oldest) {
    /** How long the first has waited; zero where none does. */
    public Duration age(Instant now) {
      Duration age = oldest.map(at -> Duration.between(at, now)).orElse(Duration.ZERO);
      return age.isNegative() ? Duration.ZERO : age;
    }
  }

  private static final String UNDER_WAY =
      """
      select count(*) as files, sum(case when state = 'received' then 1 else 0 end) as ahead
        from received_file
       where batch_id in (select batch_id from received_file where state = 'received')""";

  /**
   * How far the batches are that are not measured yet.
   *
   * @param done files of them that are measured, refused or wait for a tag
   * @param of all their files; 0 where nothing is under way
   */
  public record Progress(int done, int of) {}

  private Queues() {}

  public static Progress underWay(Tx tx) {
    return tx.query(UNDER_WAY)
        .map(
            Row.as(
                r -> {
                  int files = r.count("files");
                  return new Progress(files == 0 ? 0 : files - r.count("ahead"), files);
                }))
        .one();
  }

  public static State of(Tx tx, Queue queue) {
    return tx.query(queue.sql)
        .map(Row.as(r -> new State(queue, r.count("n"), r.instantIfAny("at"))))
        .one();
  }

  public static List<State> all(Tx tx) {
    return List.of(Queue.values()).stream().map(q -> of(tx, q)).toList();
  }
}
