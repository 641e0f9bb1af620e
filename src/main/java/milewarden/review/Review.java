package milewarden.review;

import java.time.Duration;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import milewarden.accuracy.Engine;
import milewarden.recipient.Audience;
import milewarden.report.DamageWords;
import milewarden.report.Digits;
import milewarden.review.tell.Telling;
import milewarden.store.Database;
import milewarden.store.Id.ModelId;
import milewarden.store.Tx;
import milewarden.store.Unreadable;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.Marks;
import milewarden.store.judged.Settling;
import milewarden.store.run.Models;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.Policy;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The stage that judges marked models, one at a time. Each step is idempotent: a crash anywhere
 * repeats one at most, and what is written is written whole.
 */
public final class Review {
  private static final Logger LOG = LoggerFactory.getLogger(Review.class);
  // A judgement takes milliseconds; a node that has not come back after this is taken for dead.
  private static final Duration LEASE = Duration.ofSeconds(60);
  // Somebody has to mend what can't be read; who restarts the server needn't wait.
  private static final Duration UNREADABLE = Duration.ofMinutes(10);
  private static final Duration RECENT = Duration.ofHours(24);

  private final Database database;
  private final Judging judging;
  private final Telling telling;
  private final Runnable wakeOutbox;

  /**
   * @param zone in which ages are counted
   * @param digits how figures are written in messages
   * @param publicUrl without a slash at its end, for the links in messages
   * @param audience who is told by the configuration
   * @param wakeOutbox called after a message was queued and committed
   */
  public Review(
      Database database,
      Policy policy,
      ZoneId zone,
      Digits digits,
      Optional<String> publicUrl,
      Audience audience,
      Runnable wakeOutbox) {
    this(database, Judging.by(policy, zone), new Telling(digits, publicUrl, audience), wakeOutbox);
  }

  Review(Database database, Judging judging, Telling telling, Runnable wakeOutbox) {
    this.database = database;
    this.judging = judging;
    this.telling = telling;
    this.wakeOutbox = wakeOutbox;
  }

  /** Judges every marked model, then tells what is to be told; returns when nothing is marked. */
  public void run() {
    run(() -> false);
  }

  /**
   * As {@link #run()}.
   *
   * @param stopping asked after every model; the others are left for the next start
   */
  public void run(BooleanSupplier stopping) {
    database.change(Marks::looksThatWaited);
    // Each model is a transaction of its own.
    while (!stopping.getAsBoolean()) {
      Optional<Judged> next = judge();
      if (next.isEmpty()) {
        tell();
        return;
      }
      next.get().log();
    }
  }

  /**
   * Judges the model that has waited longest.
   *
   * @return false where no model is marked that another worker doesn't hold
   */
  public boolean judgeNext() {
    return judge().isPresent();
  }

  /**
   * A model that was judged.
   *
   * @param raised how many due items it has now that it hadn't
   */
  private record Judged(String model, int raised, int closed) {
    void log() {
      if (raised + closed > 0)
        LOG.info("{} is judged: due items raised {}, closed {}", model, raised, closed);
    }
  }

  private Optional<Judged> judge() {
    Optional<Marks.Mark> claimed = database.write(tx -> Marks.claim(tx, LEASE));
    if (claimed.isEmpty()) return Optional.empty();
    Marks.Mark mark = claimed.get();
    ModelJudgement judgement;
    try {
      judgement = database.read(tx -> judge(tx, mark));
    } catch (Unreadable e) {
      return Optional.of(stopped(mark, e));
    }
    Kept kept = database.write(tx -> keep(tx, mark, judgement));
    if (kept.queued()) wakeOutbox.run();
    return Optional.of(new Judged(judgement.model(), kept.raised(), kept.closed()));
  }

  // The others are judged. Whoever took the verdict before for the one that stands would hold the
  // releases against another anchor, and nobody would know.
  private Judged stopped(Marks.Mark mark, Unreadable why) {
    String model =
        database.write(
            tx -> {
              Marks.stop(tx, mark, tx.now().plus(UNREADABLE));
              return Models.find(tx, mark.model()).orElseThrow().name();
            });
    if (!mark.stopped()) LOG.error("{}", DamageWords.notJudged(model), why);
    return new Judged(model, 0, 0);
  }

  private ModelJudgement judge(Tx tx, Marks.Mark mark) {
    ModelHistory history = Histories.of(tx, Models.find(tx, mark.model()).orElseThrow());
    return judging.judge(history, tx.now());
  }

  // One transaction: the judgement with its comparisons and looks, the due items, the message, and
  // the mark taken away - unless it was renewed while the judge worked.
  Kept keep(Tx tx, Marks.Mark mark, ModelJudgement judgement) {
    // Another station took the model over: it judges what is in the store by then.
    if (!Marks.isHeld(tx, mark)) return new Kept(false, 0, 0);
    Judgements.put(tx, mark.model(), judgement);
    Settling.Changes due = Settling.settle(tx, mark.model(), judgement.due(), mark.quiet());
    Marks.done(tx, mark);
    return new Kept(telling.tell(tx), due.raised().size(), due.closed().size());
  }

  /**
   * What came of keeping a judgement.
   *
   * @param queued true where a message was queued
   * @param raised how many due items
   */
  record Kept(boolean queued, int raised, int closed) {}

  /**
   * Queues the message of a batch that ended after its last model was judged.
   *
   * @return true where a message was queued
   */
  public boolean tell() {
    boolean queued = database.write(telling::tell);
    if (queued) wakeOutbox.run();
    return queued;
  }

  /** Queues the daily digests whose time has come. */
  public void digest() {
    if (database.write(telling::digest)) wakeOutbox.run();
  }

  /**
   * Marks the models that were not judged within a day or not by this engine, or whose judgement or
   * an open due item can't be read: verdicts age without any run, and a judgement can always be
   * made again of what it rests on. For the start and for the night.
   */
  public void markOutdated() {
    markOutdated(() -> {});
  }

  /**
   * As {@link #markOutdated()}.
   *
   * @param giveWay called before each model is looked at; what it throws ends it with none marked
   */
  public void markOutdated(Runnable giveWay) {
    List<ModelId> unread = new ArrayList<>();
    for (ModelId model : database.read(Judgements::models)) {
      giveWay.run();
      if (!database.read(tx -> Judgements.isReadable(tx, model))) unread.add(model);
    }
    database.read(DueItems::open).stream()
        .filter(due -> !due.whole())
        .map(DueItems.Due::model)
        .filter(model -> !unread.contains(model))
        .forEach(unread::add);
    database.change(
        tx -> {
          Marks.mark(tx, unread, true);
          Marks.unjudged(tx, tx.now().minus(RECENT), Engine.VERSION);
        });
  }
}
