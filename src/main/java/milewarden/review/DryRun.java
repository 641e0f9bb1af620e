package milewarden.review;

import java.time.ZoneId;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.BiFunction;
import java.util.function.Function;
import milewarden.accuracy.Engine;
import milewarden.course.ReferenceCourse;
import milewarden.store.Database;
import milewarden.store.Id.RunId;
import milewarden.store.Tx;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.Settling;
import milewarden.store.run.EvidenceRows;
import milewarden.store.run.EvidenceRows.Placed;
import milewarden.store.run.Models;
import milewarden.store.run.Runs;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.judging.Judge;
import milewarden.verdict.replay.Moves;

/**
 * Tries a new policy, a new version of a course or this engine over the whole history, in memory:
 * nothing is written, nobody is told, the store is read only.
 */
public final class DryRun {
  private static final int ALL = Integer.MAX_VALUE;
  // Some seconds' work.
  private static final int AT_A_TIME = 128;

  private final Database database;
  private final Policy policy;
  private final ZoneId zone;
  private final MeasuringAnew measuring;

  /**
   * @param policy in force now
   * @param zone in which ages are counted
   */
  public DryRun(Database database, Policy policy, ZoneId zone, MeasuringAnew measuring) {
    this.database = database;
    this.policy = policy;
    this.zone = zone;
    this.measuring = measuring;
  }

  /** Is told how far a dry run is. */
  @FunctionalInterface
  public interface Progress {
    /** So many of all were measured anew, or judged. */
    void at(Step step, int done, int of);
  }

  /** What a dry run does, one after the other. */
  public enum Step {
    MEASURING_RUNS,
    JUDGING_MODELS
  }

  /** What another policy would move: milliseconds per model. */
  public Forecast policy(Policy other) {
    return policy(other, (step, done, of) -> {});
  }

  /** The same, telling how far it is. */
  public Forecast policy(Policy other, Progress progress) {
    return database.read(
        tx ->
            gather(
                tx,
                model -> {
                  ModelHistory history = Histories.of(tx, model);
                  return Optional.of(
                      new Pair(judge(tx, history, policy), judge(tx, history, other)));
                },
                0,
                List.of(),
                progress));
  }

  /**
   * What a version of a course would move, if it came into force now: every run on the course is
   * measured from its bytes, some tens of milliseconds each.
   */
  public Forecast course(ReferenceCourse version) {
    return course(version, (step, done, of) -> {});
  }

  /** The same, telling how far it is. */
  public Forecast course(ReferenceCourse version, Progress progress) {
    List<RunId> runs =
        database.read(tx -> counting(Runs.ofCourse(tx, version.slug().text(), ALL, 0)));
    Map<RunId, List<Placed>> anew = measure(runs, Optional.of(version), progress);
    return database.read(
        tx ->
            gather(
                tx,
                model -> {
                  ModelHistory history = Histories.of(tx, model);
                  List<Placed> now = EvidenceRows.placed(tx, model.id(), Engine.VERSION);
                  ModelHistory then = history.withPasses(replaced(now, anew));
                  return Optional.of(new Pair(judge(tx, history, policy), judge(tx, then, policy)));
                },
                runs.size(),
                lost(tx, runs, anew),
                progress));
  }

  /**
   * What this engine would move against the judgements as they are stored, by whatever engine:
   * every run is measured from its bytes. A model that was never judged is left out.
   */
  public Forecast engine() {
    return engine((step, done, of) -> {});
  }

  /** The same, telling how far it is. */
  public Forecast engine(Progress progress) {
    List<RunId> runs = database.read(tx -> counting(Runs.page(tx, ALL, 0)));
    Map<RunId, List<Placed>> anew = measure(runs, Optional.empty(), progress);
    return database.read(
        tx ->
            gather(
                tx,
                model -> Judgements.find(tx, model.id()).map(j -> engine(tx, model, j, anew)),
                runs.size(),
                lost(tx, runs, anew),
                progress));
  }

  /** Measures so many at a time, and tells after each. */
  private Map<RunId, List<Placed>> measure(
      List<RunId> runs, Optional<ReferenceCourse> instead, Progress progress) {
    Map<RunId, List<Placed>> all = new LinkedHashMap<>();
    for (int from = 0; from < runs.size(); from += AT_A_TIME) {
      progress.at(Step.MEASURING_RUNS, from, runs.size());
      List<RunId> next = runs.subList(from, Math.min(runs.size(), from + AT_A_TIME));
      all.putAll(measuring.measure(next, instead));
    }
    progress.at(Step.MEASURING_RUNS, runs.size(), runs.size());
    return all;
  }

  private Pair engine(
      Tx tx, Models.Model model, ModelJudgement stored, Map<RunId, List<Placed>> anew) {
    List<Placed> then = EvidenceRows.placed(tx, model.id(), stored.engineVersion());
    ModelHistory history = Histories.of(tx, model).withPasses(replaced(then, anew));
    // As of the stored moment: what the date alone would make due is not the engine's doing.
    return new Pair(stored, Judge.judge(history, policy, stored.judgedAt(), zone));
  }

  private record Pair(ModelJudgement before, ModelJudgement after) {}

  private Forecast gather(
      Tx tx,
      Function<Models.Model, Optional<Pair>> judged,
      int runs,
      List<String> lost,
      Progress progress) {
    List<Moves> moves = new ArrayList<>();
    int models = 0;
    int messages = 0;
    List<Models.Model> all = Models.all(tx);
    int done = 0;
    progress.at(Step.JUDGING_MODELS, done, all.size());
    for (Models.Model model : all) {
      Optional<Pair> pair = judged.apply(model);
      progress.at(Step.JUDGING_MODELS, ++done, all.size());
      if (pair.isEmpty()) continue;
      models++;
      Moves m = Moves.between(pair.get().before(), pair.get().after(), policy.figureStepPercent());
      messages +=
          (int) m.raised().stream().filter(d -> !Settling.wasTold(tx, model.id(), d.key())).count();
      if (!m.none()) moves.add(m);
    }
    return new Forecast(moves, models, runs, lost, messages);
  }

  private ModelJudgement judge(Tx tx, ModelHistory history, Policy by) {
    return Judge.judge(history, by, tx.now(), zone);
  }

  private static List<RunId> counting(List<Runs.Run> runs) {
    return runs.stream().filter(r -> r.heldFor().isEmpty()).map(Runs.Run::id).toList();
  }

  /** The passes of today with those of the runs that were measured anew in their place. */
  private static List<PassEvidence> replaced(List<Placed> now, Map<RunId, List<Placed>> anew) {
    Map<RunId, Map<Integer, Long>> numbers = new HashMap<>();
    List<PassEvidence> all = new ArrayList<>();
    Set<Long> placed = new TreeSet<>();
    for (Placed p : now)
      numbers
          .computeIfAbsent(p.run(), r -> new LinkedHashMap<>())
          .put(p.pass(), p.evidence().resultId());
    BiFunction<Placed, Map<Integer, Long>, PassEvidence> numbered =
        (p, known) ->
            // A pass that was there keeps its number: looks that were taken name it.
            p.evidence().withResultId(known.getOrDefault(p.pass(), p.evidence().resultId()));
    for (Placed p : now) {
      List<Placed> instead = anew.get(p.run());
      if (instead == null) all.add(p.evidence());
      else if (placed.add(p.run().value()))
        for (Placed each : instead)
          all.add(numbered.apply(each, numbers.getOrDefault(p.run(), Map.of())));
    }
    return all;
  }

  private static List<String> lost(Tx tx, List<RunId> runs, Map<RunId, List<Placed>> anew) {
    List<String> lost = new ArrayList<>();
    for (RunId id : runs)
      if (anew.getOrDefault(id, List.of()).isEmpty())
        Runs.find(tx, id).ifPresent(r -> lost.add(r.sessionName() + ", " + r.unitName()));
    return lost;
  }
}
