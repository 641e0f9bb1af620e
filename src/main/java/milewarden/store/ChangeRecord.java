package milewarden.store;

import java.time.Instant;
import java.util.List;
import milewarden.people.Actor;

/**
 * The record of who changed what: written in the transaction of the change itself, so that there is
 * no change without its line and no line without its change. Nothing is ever taken out.
 */
public final class ChangeRecord {
  private static final String ADD =
      """
      insert into change_record (at, actor_kind, actor, what, subject, words)
      values (:now, :kind, :actor, :what, :subject, :words)""";
  private static final String PAGE =
      """
      select id, at, actor_kind, actor, what, subject, words from change_record
       order by id desc limit :limit offset :offset""";
  // A verdict's words or a note may be long: they stand whole where they belong.
  private static final int LONGEST = 500;

  private ChangeRecord() {}

  /** What was changed. */
  public enum What {
    TAG,
    POLICY,
    COURSE,
    VERDICT,
    PERSON,
    TOKEN,
    /** Who is told of what by mail. */
    RECIPIENT
  }

  /**
   * One change.
   *
   * @param subject of it, by its name
   * @param words what was changed, from what to what
   */
  public record Change(long id, Instant at, Actor actor, What what, String subject, String words) {}

  public static void note(Tx tx, What what, String subject, String words) {
    tx.update(ADD)
        .bind("now", tx.now())
        .bind("kind", tx.by().kind())
        .bind("actor", tx.by().name())
        .bind("what", what)
        .bind("subject", subject)
        .bind("words", words.length() > LONGEST ? words.substring(0, LONGEST) + "..." : words)
        .execute();
  }

  /** The newest first. */
  public static List<Change> page(Tx tx, int limit, int offset) {
    return tx.query(PAGE)
        .bind("limit", limit)
        .bind("offset", offset)
        .map(
            Row.as(
                r ->
                    new Change(
                        r.number("id"),
                        r.instant("at"),
                        new Actor(r.choice("actor_kind", Actor.Kind.class), r.text("actor")),
                        r.choice("what", What.class),
                        r.text("subject"),
                        r.text("words"))))
        .list();
  }
}
