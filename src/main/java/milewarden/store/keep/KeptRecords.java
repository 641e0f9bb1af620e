package milewarden.store.keep;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.RecordingQuality;
import milewarden.course.ReferenceCourse;
import milewarden.store.Id.VerdictId;
import milewarden.store.Json;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.store.Unreadable;
import milewarden.store.judged.Capsules;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Verdicts;
import milewarden.store.keep.StoreFinding.Kind;
import milewarden.store.run.PassRows;
import milewarden.verdict.CampaignPlan;
import milewarden.verdict.DueItem;
import milewarden.verdict.Look;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.replay.CapsuleContents;

/** Whether every record that is kept as text can be read, and finds what it names. */
final class KeptRecords {
  private static final List<Column> COLUMNS =
      List.of(
          new Column("course_version", "id", "course", ReferenceCourse.class),
          new Column("measurement", "id", "recording", RecordingQuality.class),
          new Column("measurement", "id", "options", MeasureOptions.class),
          new Column("judgement", "model_id", "judgement", ModelJudgement.class),
          new Column("look", "id", "look", Look.class),
          new Column("due_item", "id", "item", DueItem.class),
          new Column("verdict", "id", "record", PublishedVerdict.class),
          new Column("capsule", "verdict_id", "contents", CapsuleContents.class),
          new Column("campaign_plan", "id", "record", CampaignPlan.class));
  private static final String PASSES =
      """
      select id, detail, series from result where detail is not null order by id""";
  private static final String RESULT_IDS =
      """
      select id from result""";
  private static final String MARKED =
      """
      select model_id from mark""";
  private static final String HASHES =
      """
      select sha256 from content""";

  // PostgreSQL's driver would bring all rows into the memory at once.
  private static final int FETCH = 200;

  private final Tx tx;
  private final List<StoreFinding> findings;
  private long read;

  private KeptRecords(Tx tx, List<StoreFinding> findings) {
    this.tx = tx;
    this.findings = findings;
  }

  private record Column(String table, String key, String column, Class<?> type) {}

  /** How many records were read. */
  static long check(Tx tx, List<StoreFinding> findings) {
    KeptRecords all = new KeptRecords(tx, findings);
    List<StoreFinding> unread = new ArrayList<>();
    for (Column column : COLUMNS) all.column(column, unread);
    all.passes(unread);
    findings.addAll(unread);
    all.evidence();
    all.capsules();
    return all.read;
  }

  private void column(Column c, List<StoreFinding> unread) {
    String sql =
        "select %2$s, %3$s from %1$s where %3$s is not null order by %2$s"
            .formatted(c.table, c.key, c.column);
    tx.query(sql)
        .setFetchSize(FETCH)
        .map(
            (row, context) -> {
              String text = row.getString(c.column);
              return attempt(
                  c.table + " " + row.getLong(c.key), () -> Json.read(text, c.type), unread);
            })
        .forEach(ok -> read++);
  }

  private void passes(List<StoreFinding> unread) {
    tx.query(PASSES)
        .setFetchSize(FETCH)
        .map(
            Row.as(
                r ->
                    attempt(
                        "result " + r.number("id"),
                        () -> {
                          try {
                            return PassRows.read(r);
                          } catch (java.sql.SQLException e) {
                            throw new IllegalStateException(e);
                          }
                        },
                        unread)))
        .forEach(ok -> read++);
  }

  /** What reading a record gives. */
  @FunctionalInterface
  private interface Attempt {
    Object read();
  }

  private static boolean attempt(String which, Attempt attempt, List<StoreFinding> unread) {
    try {
      attempt.read();
      return true;
    } catch (IllegalStateException | IllegalArgumentException | IndexOutOfBoundsException e) {
      if (unread.size() < StoreCheck.MOST_ALIKE)
        unread.add(
            StoreFinding.of(
                Kind.RECORD, "The record of " + which + " can't be read: " + e.getMessage() + "."));
      return false;
    }
  }

  // A re-measured recording may have fewer passes: what rests on them is judged again, so an item
  // of a model that is marked for it may name what is gone.
  private void evidence() {
    Set<Long> results = new HashSet<>(tx.query(RESULT_IDS).mapTo(Long.class).list());
    Set<Long> marked = new HashSet<>(tx.query(MARKED).mapTo(Long.class).list());
    for (DueItems.Due due : DueItems.open(tx)) {
      if (marked.contains(due.model().value())) continue;
      for (long id : due.item().evidence())
        if (!results.contains(id))
          findings.add(
              StoreFinding.of(
                  Kind.REFERENCE,
                  "Due item "
                      + due.id().value()
                      + " rests on result "
                      + id
                      + ", which is not there."));
    }
  }

  private void capsules() {
    Set<String> kept = new HashSet<>(tx.query(HASHES).mapTo(String.class).list());
    for (Verdicts.Line verdict : Verdicts.lines(tx)) {
      String name = "Verdict " + verdict.number() + " on " + verdict.modelName();
      capsule(verdict.id())
          .ifPresent(
              capsule -> {
                for (CapsuleContents.Pass pass : capsule.passes())
                  lost(name, pass.file(), pass.sha256(), kept);
                for (PublishedVerdict.CourseUsed course : capsule.verdict().courses())
                  lost(name, "the course " + course.slug(), course.version(), kept);
              });
    }
  }

  // One that can't be read was counted with the records, and names nothing.
  private Optional<CapsuleContents> capsule(VerdictId verdict) {
    try {
      return Capsules.find(tx, verdict);
    } catch (Unreadable e) {
      return Optional.empty();
    }
  }

  private void lost(String verdict, String what, String sha256, Set<String> kept) {
    if (!sha256.isEmpty() && !kept.contains(sha256))
      findings.add(
          StoreFinding.of(
              Kind.BYTES,
              verdict
                  + " rests on "
                  + what
                  + ", whose bytes are not in the store: SHA-256 "
                  + sha256
                  + "."));
  }
}
