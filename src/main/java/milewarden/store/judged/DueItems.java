package milewarden.store.judged;

import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import milewarden.store.Codes;
import milewarden.store.Id.DueId;
import milewarden.store.Id.ModelId;
import milewarden.store.Json;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.verdict.DueItem;

/**
 * What is due, one item per cause, with its history. An item closes by itself when its cause is
 * gone, or by the tester with a word; a cause that the tester closed is not raised again while it
 * lasts.
 */
public final class DueItems {
  private static final String COLUMNS =
      """
      select id, model_id, cause_key, kind, severity, cause, firmware, item, raised_at, told_at,
             closed_at, closed_by, closed_words, gone_at, acknowledged_at, acknowledged_by,
             snoozed_until,
             (select m.name from model m where m.id = due_item.model_id) as model_name
        from due_item
      """;
  private static final String AWAKE =
      COLUMNS + " where closed_at is null and snoozed_until <= :now order by id";
  private static final String ACKNOWLEDGE =
      """
      update due_item set acknowledged_at = :now, acknowledged_by = :by, snoozed_until = null
       where id = :id and closed_at is null""";
  private static final String SNOOZE =
      """
      update due_item set snoozed_until = :until where id = :id and closed_at is null""";
  private static final String WAKE =
      """
      update due_item set snoozed_until = null where id = :id""";
  private static final String OPEN = COLUMNS + " where closed_at is null order by id";
  private static final String OPEN_OF_MODEL =
      COLUMNS + " where model_id = :model and closed_at is null order by id";
  private static final String OF_MODEL = COLUMNS + " where model_id = :model order by id desc";
  private static final String PAGE_CLOSED =
      COLUMNS + " where closed_at is not null order by closed_at desc, id desc limit :limit";
  private static final String BY_ID = COLUMNS + " where id = :id";
  private static final String UNTOLD =
      COLUMNS + " where closed_at is null and told_at is null order by id";
  private static final String CLOSE =
      """
      update due_item
         set closed_at = :now, closed_by = :by, closed_words = :words, gone_at = :gone
       where id = :id and closed_at is null""";
  private static final String TOLD =
      """
      update due_item set told_at = :now where id = :id and told_at is null""";
  private static final String DISMISSED =
      """
      select id from due_item
       where model_id = :model and closed_at is not null and gone_at is null""";
  // Who acts where no tester did; shown as a word by the pages.
  static final String JUDGE = "judge";

  private DueItems() {}

  /** How an item was closed; {@code by} is {@code judge} where its cause was gone. */
  public record Closing(Instant at, String by, String words) {}

  /**
   * A due item with its fate.
   *
   * @param toldAt when a message about it was queued; empty where none was yet
   * @param seen who has acknowledged it
   * @param snoozedUntil when it is told again, where it was put off
   * @param whole false where its record is damaged: the item is then what its columns say, without
   *     numbers, advice and evidence
   */
  public record Due(
      DueId id,
      ModelId model,
      DueItem item,
      Instant raisedAt,
      Optional<Instant> toldAt,
      Optional<Closing> closed,
      Optional<Seen> seen,
      Optional<Instant> snoozedUntil,
      boolean whole) {}

  /** Who has acknowledged an item, last. */
  public record Seen(Instant at, String by) {}

  /** Everything open, most pressing first, older before newer. */
  public static List<Due> open(Tx tx) {
    return tx.unwritten(OPEN, () -> sorted(tx.query(OPEN).map(Row.as(DueItems::read)).list()));
  }

  public static List<Due> open(Tx tx, ModelId model) {
    return sorted(tx.query(OPEN_OF_MODEL).bind("model", model).map(Row.as(DueItems::read)).list());
  }

  /** A model's items, open and closed, the newest first. */
  public static List<Due> of(Tx tx, ModelId model) {
    return tx.query(OF_MODEL).bind("model", model).map(Row.as(DueItems::read)).list();
  }

  /** The items that were closed last, the latest first. */
  public static List<Due> closed(Tx tx, int limit) {
    return tx.query(PAGE_CLOSED).bind("limit", limit).map(Row.as(DueItems::read)).list();
  }

  public static Optional<Due> find(Tx tx, DueId id) {
    return tx.query(BY_ID).bind("id", id).map(Row.as(DueItems::read)).findOne();
  }

  /** Items that the tester closed with a word while their cause lasts. */
  public static Set<DueId> dismissed(Tx tx, ModelId model) {
    return Set.copyOf(
        tx.query(DISMISSED)
            .bind("model", model)
            .map(Row.as(r -> new DueId(r.number("id"))))
            .list());
  }

  /** Open items of which nobody was told yet, most pressing first. */
  public static List<Due> untold(Tx tx) {
    return sorted(tx.query(UNTOLD).map(Row.as(DueItems::read)).list());
  }

  /**
   * The tester closes an item with a word.
   *
   * @return false where it was closed already
   */
  public static boolean close(Tx tx, DueId id, String by, String words) {
    return close(tx, id, by, words, false);
  }

  static boolean close(Tx tx, DueId id, String by, String words, boolean gone) {
    int closed =
        tx.update(CLOSE)
            .bind("id", id)
            .bind("now", tx.now())
            .bind("by", by)
            .bind("words", words)
            .bind("gone", gone ? Optional.of(tx.now()) : Optional.empty())
            .execute();
    if (closed == 0) return false;
    DueHistory.event(tx, id, DueHistory.What.CLOSED, by, words);
    return true;
  }

  /** A message about the item was queued in this transaction, under this Message-ID. */
  public static void told(Tx tx, DueId id, String messageId) {
    if (tx.update(TOLD).bind("id", id).bind("now", tx.now()).execute() > 0)
      DueHistory.event(tx, id, DueHistory.What.TOLD, JUDGE, messageId);
  }

  /** Open items that were put off until now or earlier, most pressing first. */
  public static List<Due> awake(Tx tx) {
    return sorted(tx.query(AWAKE).bind("now", tx.now()).map(Row.as(DueItems::read)).list());
  }

  /** A message told of the item again; it is no longer put off. */
  public static void reminded(Tx tx, DueId id, String messageId) {
    tx.update(WAKE).bind("id", id).execute();
    DueHistory.event(tx, id, DueHistory.What.REMINDED, JUDGE, messageId);
  }

  /**
   * Somebody has seen an item and takes it on: it is not told again.
   *
   * @return false where it is not open
   */
  public static boolean acknowledge(Tx tx, DueId id, String by, String words) {
    if (tx.update(ACKNOWLEDGE).bind("id", id).bind("now", tx.now()).bind("by", by).execute() == 0)
      return false;
    DueHistory.event(tx, id, DueHistory.What.ACKNOWLEDGED, by, words);
    return true;
  }

  /**
   * Puts an item off: it is told again then, if it is still open.
   *
   * @return false where it is not open
   */
  public static boolean snooze(Tx tx, DueId id, Instant until, String by, String words) {
    if (tx.update(SNOOZE).bind("id", id).bind("until", until).execute() == 0) return false;
    DueHistory.event(
        tx, id, DueHistory.What.SNOOZED, by, (Codes.text(until) + " " + words).strip());
    return true;
  }

  private static List<Due> sorted(List<Due> items) {
    return items.stream()
        .sorted(
            Comparator.comparing((Due d) -> d.item().severity())
                .thenComparing(Due::raisedAt)
                .thenComparing(d -> d.id().value()))
        .toList();
  }

  private static Due read(Row r) throws java.sql.SQLException {
    Optional<Closing> closed = Optional.empty();
    if (r.has("closed_at"))
      closed =
          Optional.of(
              new Closing(r.instant("closed_at"), r.text("closed_by"), r.text("closed_words")));
    Optional<DueItem> item = Json.readable(r.text("item"), DueItem.class);
    return new Due(
        new DueId(r.number("id")),
        new ModelId(r.number("model_id")),
        item.isPresent() ? item.get() : rest(r),
        r.instant("raised_at"),
        r.instantIfAny("told_at"),
        closed,
        r.has("acknowledged_at")
            ? Optional.of(new Seen(r.instant("acknowledged_at"), r.text("acknowledged_by")))
            : Optional.empty(),
        r.instantIfAny("snoozed_until"),
        item.isPresent());
  }

  /** What is known of an item whose record is damaged. */
  private static DueItem rest(Row r) throws java.sql.SQLException {
    return DueItem.withoutFacts(
        r.text("cause_key"),
        r.choice("kind", DueItem.Kind.class),
        r.choice("severity", DueItem.Severity.class),
        r.choice("cause", DueItem.Cause.class),
        r.text("model_name"),
        r.text("firmware"));
  }
}
