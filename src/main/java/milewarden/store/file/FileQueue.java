package milewarden.store.file;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import milewarden.store.Id.FileId;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.store.file.ReceivedFiles.Reason;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.track.TagName;
import org.jdbi.v3.core.statement.PreparedBatch;
import org.jdbi.v3.core.statement.SqlStatement;

/** The queue of the measuring stage: who has a file in hand, and what became of it. */
public final class FileQueue {
  // Rows that are claimed come back when the lease is over: a node that died loses no file.
  private static final String CLAIMABLE =
      "select "
          + ReceivedFiles.COLUMNS
          + """
           from received_file
          where state = 'received'
            and (claimed_until is null or claimed_until <= :now or claimed_until > :beyond)
          order by anew, id limit :limit""";
  private static final String CLAIM =
      """
      update received_file set claimed_until = :until, claimed_by = :me where id = :id""";
  private static final String HELD =
      """
      select exists (select 1 from received_file
                      where id = :id and state = 'received' and claimed_by = :me) as held""";
  private static final String RELEASE =
      """
      update received_file set claimed_until = null, claimed_by = null
       where claimed_until is not null""";
  private static final String SETTLE =
      """
      update received_file
         set state = :state, duplicate_of = null, code = :code, place = :place,
             sentence = :sentence, missing = :missing, offers = :offers,
             settled_at = :settled, claimed_until = null,
             claimed_by = null, anew = false
       where id = :id""";
  private static final String RUN_SETTLED =
      """
      update run set anew = false where file_id = :id and anew""";
  private static final String AGAIN =
      """
      update received_file
         set state = 'received', code = null, place = null, sentence = null, missing = '',
             offers = '', settled_at = null, claimed_until = null, claimed_by = null
       where state = :state and code = :code""";

  private FileQueue() {}

  /** Takes up to {@code limit} received files, oldest first, that no other worker holds. */
  public static List<Received> claim(Tx tx, int limit, Duration lease) {
    List<Received> files =
        tx.query(CLAIMABLE)
            .bind("now", tx.now())
            .bind("beyond", tx.beyond())
            .bind("limit", limit)
            .map(Row.as(ReceivedFiles::read))
            .list();
    PreparedBatch claims = tx.batch(CLAIM);
    for (Received f : files)
      claims.bind("until", tx.now().plus(lease)).bind("me", tx.station()).bind("id", f.id()).add();
    if (!files.isEmpty()) claims.execute();
    return files;
  }

  /**
   * Whether a claimed file is still this station's to settle. It is not where the claim ran out and
   * another took the file, or where it was sent back to the queue meanwhile.
   */
  public static boolean isHeld(Tx tx, FileId id) {
    return tx.query(HELD)
        .bind("id", id)
        .bind("me", tx.station())
        .map(Row.as(r -> r.flag("held")))
        .one();
  }

  /** At the start of the only server on this store: what a dead one had claimed is free again. */
  public static void releaseClaims(Tx tx) {
    tx.update(RELEASE).execute();
  }

  public static void measured(Tx tx, FileId id) {
    measured(tx, List.of(id));
  }

  public static void measured(Tx tx, List<FileId> ids) {
    if (ids.isEmpty()) return;
    PreparedBatch files = tx.batch(SETTLE);
    PreparedBatch runs = tx.batch(RUN_SETTLED);
    for (FileId id : ids) {
      settled(files, tx, id, State.MEASURED, Optional.empty(), List.of(), List.of()).add();
      runs.bind("id", id).add();
    }
    files.execute();
    runs.execute();
  }

  /** A field sheet whose rows were taken, with remarks. */
  public static void measured(Tx tx, FileId id, Reason remarks) {
    settle(tx, id, State.MEASURED, Optional.of(remarks), List.of(), List.of());
  }

  public static void waiting(Tx tx, FileId id, List<TagName> missing, Reason reason) {
    waiting(tx, id, missing, reason, List.of());
  }

  /** A file that waits for an answer, some of which are proposed. */
  public static void waiting(
      Tx tx, FileId id, List<TagName> missing, Reason reason, List<Offer> offers) {
    settle(tx, id, State.WAITING, Optional.of(reason), missing, offers);
  }

  public static void refused(Tx tx, FileId id, Reason reason) {
    refused(tx, id, List.of(), reason);
  }

  /** A recording that fits no course, and what else it needs before one can measure it. */
  public static void refused(Tx tx, FileId id, List<TagName> missing, Reason reason) {
    settle(tx, id, State.REFUSED, Optional.of(reason), missing, List.of());
  }

  /** Back to the measuring stage: a tag was given or a rule changed. */
  public static void again(Tx tx, FileId id) {
    settle(tx, id, State.RECEIVED, Optional.empty(), List.of(), List.of());
  }

  /** Back to the measuring stage with every file of this state and code; says how many. */
  public static int again(Tx tx, State state, String code) {
    return tx.update(AGAIN).bind("state", state).bind("code", code).execute();
  }

  private static void settle(
      Tx tx,
      FileId id,
      State state,
      Optional<Reason> reason,
      List<TagName> missing,
      List<Offer> offers) {
    settled(tx.update(SETTLE), tx, id, state, reason, missing, offers).execute();
    // Whatever came of it: its run waits for new results no longer.
    if (state != State.RECEIVED) tx.update(RUN_SETTLED).bind("id", id).execute();
  }

  private static <S extends SqlStatement<S>> S settled(
      S sql,
      Tx tx,
      FileId id,
      State state,
      Optional<Reason> reason,
      List<TagName> missing,
      List<Offer> offers) {
    return sql.bind("id", id)
        .bind("state", state)
        .bind("code", reason.map(Reason::code))
        .bind("place", reason.map(Reason::place))
        .bind("sentence", reason.map(Reason::sentence))
        .bind("missing", ReceivedFiles.join(missing))
        .bind("offers", Offer.join(offers))
        .bind("settled", state == State.RECEIVED ? Optional.empty() : Optional.of(tx.now()));
  }
}
