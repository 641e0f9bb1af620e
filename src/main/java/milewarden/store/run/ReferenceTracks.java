package milewarden.store.run;

import java.time.Instant;
import java.util.List;
import milewarden.store.Id.FileId;
import milewarden.store.Id.SessionId;
import milewarden.store.Row;
import milewarden.store.Tx;

/** Recordings of survey-grade receivers that were carried along in a session. */
public final class ReferenceTracks {
  private static final String PUT =
      """
      insert into reference_track (file_id, session_id, started_at, ended_at, added_at)
      values (:file, :session, :start, :end, :now)
      on conflict (file_id) do update
         set session_id = excluded.session_id, started_at = excluded.started_at,
             ended_at = excluded.ended_at""";
  private static final String DROP =
      """
      delete from reference_track where file_id = :file""";
  private static final String OF_SESSION =
      """
      select t.file_id, f.path, f.sha256, t.started_at, t.ended_at
        from reference_track t join received_file f on f.id = t.file_id
       where t.session_id = :session order by t.started_at, t.file_id""";

  private ReferenceTracks() {}

  /** One of a session's reference tracks. */
  public record Kept(FileId file, String path, String sha256, Instant start, Instant end) {}

  /** Keeps a recording as the reference track of a session, in place of an earlier word on it. */
  public static void put(Tx tx, FileId file, SessionId session, Instant start, Instant end) {
    tx.update(PUT)
        .bind("file", file)
        .bind("session", session)
        .bind("start", start)
        .bind("end", end)
        .bind("now", tx.now())
        .execute();
  }

  /** The recording is none, or no longer. */
  public static void drop(Tx tx, FileId file) {
    tx.update(DROP).bind("file", file).execute();
  }

  /** In order of time. */
  public static List<Kept> ofSession(Tx tx, SessionId session) {
    return tx.query(OF_SESSION)
        .bind("session", session)
        .map(
            Row.as(
                r ->
                    new Kept(
                        new FileId(r.number("file_id")),
                        r.text("path"),
                        r.text("sha256"),
                        r.instant("started_at"),
                        r.instant("ended_at"))))
        .list();
  }
}
