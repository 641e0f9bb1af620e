package milewarden.store.judged;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import milewarden.store.ChangeRecord;
import milewarden.store.Id.ModelId;
import milewarden.store.Id.VerdictId;
import milewarden.store.Json;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.verdict.PublishedVerdict;
import org.jdbi.v3.core.statement.Query;

/** Published verdicts: written once, replaced by a later one or withdrawn, never changed. */
public final class Verdicts {
  private static final String COLUMNS =
      """
      select v.id, v.model_id, v.number, v.firmware, v.published_at, v.published_by, v.words,
             v.record, (select m.name from model m where m.id = v.model_id) as model_name,
             w.withdrawn_by, w.withdrawn_at,
             w.words as withdrawn_words,
             (select max(l.number) from verdict l where l.model_id = v.model_id) as last_number
        from verdict v left join withdrawal w on w.verdict_id = v.id
      """;
  private static final String OF_MODEL = COLUMNS + " where v.model_id = :model order by v.number";
  private static final String NUMBERED =
      COLUMNS + " where v.model_id = :model and v.number = :number";
  private static final String ALL = COLUMNS + " order by v.published_at desc, v.id desc";
  private static final String BY_ID = COLUMNS + " where v.id = :id";
  private static final String ADD =
      """
      insert into verdict (model_id, number, firmware, published_at, published_by, words, record)
      values (:model, :number, :firmware, :at, :by, :words, :record) returning id
      """;
  private static final String WITHDRAW =
      """
      insert into withdrawal (verdict_id, withdrawn_by, withdrawn_at, words)
      values (:verdict, :by, :now, :words)
      on conflict (verdict_id) do nothing""";

  private Verdicts() {}

  /** A verdict taken back. */
  public record Withdrawn(Instant at, String by, String words) {}

  /**
   * A verdict as published and what became of it.
   *
   * @param superseded true where a later one of the model was published
   */
  public record OnRecord(
      VerdictId id,
      ModelId model,
      PublishedVerdict verdict,
      String by,
      boolean superseded,
      Optional<Withdrawn> withdrawn) {
    /** True where it is what the public reads today. */
    public boolean stands() {
      return !superseded && withdrawn.isEmpty();
    }
  }

  /**
   * What the columns say of a verdict, whether or not its record can be read.
   *
   * @param modelName as it is today
   */
  public record Line(
      VerdictId id,
      ModelId model,
      String modelName,
      int number,
      String firmware,
      Instant publishedAt,
      String by,
      String words,
      boolean superseded,
      Optional<Withdrawn> withdrawn) {
    /** True where it is what the public reads today. */
    public boolean stands() {
      return !superseded && withdrawn.isEmpty();
    }

    /** {@code verdict 2 on Fell 2}. */
    public String named() {
      return "verdict " + number + " on " + modelName;
    }
  }

  /** A model's verdicts in order of publishing. */
  public static List<Line> lines(Tx tx, ModelId model) {
    return tx.query(OF_MODEL).bind("model", model).map(Row.as(Verdicts::line)).list();
  }

  /** All verdicts, the latest first. */
  public static List<Line> lines(Tx tx) {
    return tx.query(ALL).map(Row.as(Verdicts::line)).list();
  }

  /**
   * All verdicts that can be read, the latest first.
   *
   * @param unread is given the others
   */
  public static List<OnRecord> readable(Tx tx, List<Line> unread) {
    return readable(tx.query(ALL), unread);
  }

  /**
   * A model's verdicts that can be read, in order of publishing.
   *
   * @param unread is given the others
   */
  public static List<OnRecord> readable(Tx tx, ModelId model, List<Line> unread) {
    return readable(tx.query(OF_MODEL).bind("model", model), unread);
  }

  private static List<OnRecord> readable(Query verdicts, List<Line> unread) {
    return verdicts.map(Row.readable(Verdicts::read, Verdicts::line, unread)).list().stream()
        .flatMap(Optional::stream)
        .toList();
  }

  /** A model's verdict of this number. */
  public static Optional<OnRecord> find(Tx tx, ModelId model, long number) {
    return tx.query(NUMBERED)
        .bind("model", model)
        .bind("number", number)
        .map(Row.as(Verdicts::read))
        .findOne();
  }

  /** A model's verdicts in order of publishing. */
  public static List<OnRecord> of(Tx tx, ModelId model) {
    return tx.query(OF_MODEL).bind("model", model).map(Row.as(Verdicts::read)).list();
  }

  public static Optional<Line> line(Tx tx, VerdictId id) {
    return tx.query(BY_ID).bind("id", id).map(Row.as(Verdicts::line)).findOne();
  }

  public static Optional<OnRecord> find(Tx tx, VerdictId id) {
    return tx.query(BY_ID).bind("id", id).map(Row.as(Verdicts::read)).findOne();
  }

  /** Writes a verdict whose number is the model's next. */
  public static VerdictId publish(Tx tx, ModelId model, PublishedVerdict verdict, String by) {
    ChangeRecord.note(
        tx,
        ChangeRecord.What.VERDICT,
        verdict.model() + ", verdict " + verdict.number(),
        "published on " + verdict.firmware() + " by " + by + ": " + verdict.words());
    return tx.inserting(ADD)
        .bind("model", model)
        .bind("number", verdict.number())
        .bind("firmware", verdict.firmware())
        .bind("at", verdict.publishedAt())
        .bind("by", by)
        .bind("words", verdict.words())
        .bind("record", Json.write(verdict))
        .map(Row.as(r -> new VerdictId(r.number("id"))))
        .one();
  }

  /**
   * Takes a verdict back with a word.
   *
   * @return false where it was withdrawn already
   */
  public static boolean withdraw(Tx tx, VerdictId id, String by, String words) {
    boolean done =
        tx.update(WITHDRAW)
                .bind("verdict", id)
                .bind("by", by)
                .bind("now", tx.now())
                .bind("words", words)
                .execute()
            > 0;
    if (done)
      line(tx, id)
          .ifPresent(
              v ->
                  ChangeRecord.note(
                      tx,
                      ChangeRecord.What.VERDICT,
                      v.modelName() + ", verdict " + v.number(),
                      "withdrawn by " + by + ": " + words));
    return done;
  }

  private static OnRecord read(Row r) throws java.sql.SQLException {
    PublishedVerdict verdict = Json.read(r.text("record"), PublishedVerdict.class);
    return new OnRecord(
        new VerdictId(r.number("id")),
        new ModelId(r.number("model_id")),
        verdict,
        r.text("published_by"),
        verdict.number() < r.count("last_number"),
        withdrawn(r));
  }

  private static Line line(Row r) throws java.sql.SQLException {
    return new Line(
        new VerdictId(r.number("id")),
        new ModelId(r.number("model_id")),
        r.text("model_name"),
        r.count("number"),
        r.text("firmware"),
        r.instant("published_at"),
        r.text("published_by"),
        r.text("words"),
        r.count("number") < r.count("last_number"),
        withdrawn(r));
  }

  private static Optional<Withdrawn> withdrawn(Row r) throws java.sql.SQLException {
    if (!r.has("withdrawn_at")) return Optional.empty();
    return Optional.of(
        new Withdrawn(
            r.instant("withdrawn_at"), r.text("withdrawn_by"), r.text("withdrawn_words")));
  }
}
