package milewarden.store;

import java.time.Duration;
import java.time.Instant;
import java.util.List;

/**
 * The servers that share one store. Each says now and then that it is alive; what a silent one had
 * claimed is taken over by the others, and it can't write to that any more when it comes back.
 */
public final class Stations {
  private static final String BEAT =
      """
      insert into station (name, place, started_at, seen_at) values (:me, :place, :now, :now)
      on conflict (name) do update set seen_at = excluded.seen_at""";
  private static final String ALL =
      """
      select name, place, started_at, seen_at from station order by started_at, name""";
  private static final String GONE =
      """
      select name from station
       where name <> :me and (seen_at < :before or place = :place) order by name""";
  private static final List<String> RELEASE =
      List.of(
          """
          update received_file set claimed_until = null, claimed_by = null
           where claimed_by = :gone""",
          """
          update mark set claimed_until = null, claimed_by = null where claimed_by = :gone""",
          """
          update outbox set claimed_until = null, claimed_by = null where claimed_by = :gone""",
          """
          update batch set closed_at = :now where station = :gone and closed_at is null""",
          """
          delete from station where name = :gone""");

  private static final String ORPHANS =
      """
      update batch set closed_at = :now
       where closed_at is null and station not in (select name from station)""";

  private Stations() {}

  /**
   * A server.
   *
   * @param place its machine and data folder
   * @param seenAt when it last said that it is alive, by its own clock
   */
  public record Station(String name, String place, Instant startedAt, Instant seenAt) {}

  /**
   * This station is alive. What silent ones held is free again: those that weren't seen for {@code
   * silence}, and those that ran at this very place before.
   *
   * @param place this machine and data folder, which one server has at a time
   * @return the names of the stations that were given up
   */
  public static List<String> beat(Tx tx, String place, Duration silence) {
    tx.updateInPassing(BEAT)
        .bind("me", tx.station())
        .bind("place", place)
        .bind("now", tx.now())
        .execute();
    List<String> gone =
        tx.query(GONE)
            .bind("me", tx.station())
            .bind("before", tx.now().minus(silence))
            .bind("place", place)
            .map(Row.as(r -> r.text("name")))
            .list();
    for (String name : gone) giveUp(tx, name);
    // Of a store that was carried over from a file, say.
    tx.updateInPassing(ORPHANS).bind("now", tx.now()).execute();
    return gone;
  }

  /** This station stops: its batch ends, what it still holds is free at once. */
  public static void leave(Tx tx) {
    giveUp(tx, tx.station());
  }

  private static void giveUp(Tx tx, String name) {
    for (String sql : RELEASE) {
      var update = tx.update(sql).bind("gone", name);
      if (sql.contains(":now")) update.bind("now", tx.now());
      update.execute();
    }
  }

  /** Those that are known now, in the order of their start. */
  public static List<Station> all(Tx tx) {
    return tx.query(ALL)
        .map(
            Row.as(
                r ->
                    new Station(
                        r.text("name"),
                        r.text("place"),
                        r.instant("started_at"),
                        r.instant("seen_at"))))
        .list();
  }
}
