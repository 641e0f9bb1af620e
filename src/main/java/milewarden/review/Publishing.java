package milewarden.review;

import java.time.ZoneId;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import milewarden.accuracy.Engine;
import milewarden.report.DamageWords;
import milewarden.report.Words;
import milewarden.store.Database;
import milewarden.store.Id.ModelId;
import milewarden.store.Id.VerdictId;
import milewarden.store.Tx;
import milewarden.store.judged.Capsules;
import milewarden.store.judged.Marks;
import milewarden.store.judged.Recomputations;
import milewarden.store.judged.Verdicts;
import milewarden.store.run.EvidenceRows;
import milewarden.store.run.Models;
import milewarden.verdict.Arrivals;
import milewarden.verdict.Condition;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.Policy;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.Threshold;

/** Publishes verdicts on today's figures and withdraws them. What was published never changes. */
public final class Publishing {
  private final Database database;
  private final Policy policy;
  private final Judging judging;
  private final Runnable wakeReview;

  /**
   * @param zone in which ages are counted
   * @param wakeReview called after a verdict was written: its model is to be judged anew
   */
  public Publishing(Database database, Policy policy, ZoneId zone, Runnable wakeReview) {
    this(database, policy, Judging.by(policy, zone), wakeReview);
  }

  Publishing(Database database, Policy policy, Judging judging, Runnable wakeReview) {
    this.database = database;
    this.policy = policy;
    this.judging = judging;
    this.wakeReview = wakeReview;
  }

  /** Why nothing can be published on a model now, for the page where it would be. */
  public static Optional<String> impediment(Tx tx, ModelId model) {
    List<Verdicts.Line> unread = new ArrayList<>();
    Verdicts.readable(tx, model, unread);
    return unread.isEmpty() ? Optional.empty() : Optional.of(unpublishable(unread));
  }

  private static String unpublishable(List<Verdicts.Line> unread) {
    return DamageWords.unpublishable(
        Words.list(unread.stream().map(Verdicts.Line::named).toList()));
  }

  /**
   * Publishes a verdict on a release's figures as they stand now; it replaces the model's verdict
   * that stands. The model is judged anew, so due items whose cause is gone close.
   *
   * @param words the tester's, not blank
   * @param reason why the standing verdict is replaced; needed where there is one
   * @param by who publishes
   */
  public Publication publish(
      ModelId model,
      String firmware,
      String words,
      Optional<PublishedVerdict.Reason> reason,
      String by) {
    return woken(database.write(tx -> publish(tx, model, firmware, words, reason, by)));
  }

  private Publication publish(
      Tx tx,
      ModelId id,
      String firmware,
      String words,
      Optional<PublishedVerdict.Reason> reason,
      String by) {
    Optional<Models.Model> model = Models.find(tx, id);
    if (model.isEmpty()) return refused("There is no such model. Choose one of the overview.");
    if (words.isBlank())
      return refused(
          "A verdict needs your words. Say in a sentence or two what readers should know.");
    if (by.isBlank()) return refused("A verdict has somebody who publishes it. Say who you are.");
    List<Verdicts.Line> unread = new ArrayList<>();
    List<Verdicts.OnRecord> before = Verdicts.readable(tx, id, unread);
    if (!unread.isEmpty()) return refused(unpublishable(unread));
    Optional<Verdicts.OnRecord> standing = before.stream().filter(v -> v.stands()).findFirst();
    if (standing.isPresent() && reason.isEmpty())
      return refused(
          "Verdict "
              + standing.get().verdict().number()
              + " on "
              + model.get().name()
              + " stands. Say why it is replaced: new firmware, new evidence, reference revised,"
              + " method revised or error corrected.");
    if (Recomputations.isPending(tx, id))
      return refused(
          "Runs of "
              + model.get().name()
              + " are being measured anew. Publish when that is done: figures on half of the"
              + " evidence would stand in public.");
    // Whoever publishes takes what is here for whole: the verdict rests on all of it.
    ModelHistory history = Histories.of(tx, model.get()).withArrivals(Arrivals.LONG_AGO);
    Optional<ReleaseJudgement> release =
        judging.judge(history, tx.now()).release(firmware).filter(ReleaseJudgement::tested);
    if (release.isEmpty())
      return refused(
          model.get().name()
              + " has no figures for firmware "
              + firmware
              + ". Run a session with it, or name a release that was tested.");
    int number = before.size() + 1;
    PublishedVerdict drafted =
        new Draft(tx, model.get(), release.get(), policy)
            .verdict(
                number,
                words.strip(),
                standing.flatMap(
                    s ->
                        reason.map(
                            why -> new PublishedVerdict.Replaced(s.verdict().number(), why))));
    PublishedVerdict verdict = drafted.withThreshold(underItsOwnLimit(tx, history, drafted));
    Optional<String> untrue =
        standing.flatMap(s -> Reasons.untrue(s.verdict(), verdict, reason.orElseThrow()));
    if (untrue.isPresent()) return refused(untrue.get());
    VerdictId written = Verdicts.publish(tx, id, verdict, by);
    Capsules.put(tx, written, Frozen.of(tx, history, verdict, release.get()));
    Marks.mark(tx, id);
    return new Publication.Done(written, number);
  }

  /**
   * The threshold under the limit of the purposes that the verdict itself claims: that of the
   * verdict before it may be another, and a limit that moved is no change of the device.
   */
  private Threshold.State underItsOwnLimit(Tx tx, ModelHistory history, PublishedVerdict verdict) {
    List<ModelHistory.VerdictOnRecord> verdicts = new ArrayList<>(history.verdicts());
    verdicts.add(new ModelHistory.VerdictOnRecord(verdict, Optional.empty()));
    ModelHistory published =
        new ModelHistory(
            history.model(),
            history.releases(),
            history.passes(),
            verdicts,
            history.looks(),
            history.openDue(),
            history.otherModelsUnits(),
            history.reliability(),
            history.arrivals(),
            history.lags());
    return judging
        .judge(published, tx.now())
        .release(verdict.firmware())
        .flatMap(ReleaseJudgement::threshold)
        .map(Threshold::state)
        .orElse(verdict.threshold());
  }

  /** Takes a verdict back with a word; it stays readable. */
  public Publication withdraw(VerdictId id, String words, String by) {
    return woken(database.write(tx -> withdraw(tx, id, words, by)));
  }

  private Publication withdraw(Tx tx, VerdictId id, String words, String by) {
    Optional<Verdicts.Line> verdict = Verdicts.line(tx, id);
    if (verdict.isEmpty()) return refused("There is no such verdict. Choose one of the list.");
    if (words.isBlank())
      return refused(
          "Withdrawing needs your words. Say in a sentence why the verdict is taken back.");
    if (by.isBlank()) return refused("Say who withdraws it.");
    if (!Verdicts.withdraw(tx, id, by, words.strip()))
      return refused("This verdict was withdrawn already; nothing was changed.");
    Marks.mark(tx, verdict.get().model());
    return new Publication.Done(id, verdict.get().number());
  }

  private Publication woken(Publication publication) {
    publication.fold(
        done -> {
          wakeReview.run();
          return true;
        },
        refused -> false);
    return publication;
  }

  private static Publication refused(String sentence) {
    return new Publication.Refused(sentence);
  }

  /** A verdict in the making. */
  private record Draft(Tx tx, Models.Model model, ReleaseJudgement release, Policy policy) {
    PublishedVerdict verdict(
        int number, String words, Optional<PublishedVerdict.Replaced> replaces) {
      ReleaseFigures figures = release.pooled().orElseThrow();
      List<Condition> conditions =
          release.byCondition().stream().flatMap(f -> f.condition().stream()).toList();
      return new PublishedVerdict(
          model.name(),
          number,
          release.release().version(),
          release.sessions().stream().flatMap(s -> s.units().stream()).distinct().sorted().toList(),
          conditions,
          release.conformity(),
          figures,
          release.byCondition(),
          release.threshold().map(Threshold::state).orElse(Threshold.State.UNDETERMINED),
          runs(),
          conditions.stream()
              .map(c -> new PublishedVerdict.CourseUsed(c.course(), c.courseVersion()))
              .distinct()
              .toList(),
          policy,
          Engine.VERSION,
          figures.theseUnitsOnly(),
          words,
          tx.now(),
          replaces,
          Planning.drafted(tx, model.id(), release, policy).map(Planning.Held::now));
    }

    private List<PublishedVerdict.RunUsed> runs() {
      Set<Long> used = new HashSet<>();
      for (SessionFigure session : release.sessions()) used.addAll(session.resultIds());
      return EvidenceRows.runs(tx, model.id(), release.release().version(), Engine.VERSION).stream()
          .filter(run -> used.contains(run.resultId()))
          .toList();
    }
  }
}
