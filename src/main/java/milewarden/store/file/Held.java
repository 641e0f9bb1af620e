package milewarden.store.file;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import milewarden.store.Id.FileId;
import milewarden.store.Row;
import milewarden.store.Tx;

/**
 * A claimed file that is still this station's to settle, as {@link ReceivedFiles#isHeld}.
 *
 * @param anew it is measured again for its results alone: nobody said anything new
 * @param reference it is kept as the reference track of a session
 */
public record Held(boolean anew, boolean reference) {
  private static final String HELD =
      """
      select id, anew,
             exists (select 1 from reference_track t where t.file_id = f.id) as reference
        from received_file f
       where id in (<files>) and state = 'received' and claimed_by = :me""";

  /** Those of these files; one that is not held is left out. */
  public static Map<FileId, Held> of(Tx tx, List<FileId> files) {
    Map<FileId, Held> held = new HashMap<>();
    if (!files.isEmpty())
      tx.query(HELD)
          .bindList("files", files)
          .bind("me", tx.station())
          .map(
              Row.as(
                  r ->
                      held.put(
                          new FileId(r.number("id")),
                          new Held(r.flag("anew"), r.flag("reference")))))
          .list();
    return held;
  }
}
