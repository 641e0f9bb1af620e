package milewarden.review;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.Stream;
import milewarden.accuracy.Engine;
import milewarden.report.Digits;
import milewarden.store.Database;
import milewarden.store.Id.ModelId;
import milewarden.store.Tx;
import milewarden.store.judged.Changes;
import milewarden.store.judged.JudgedBriefly;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.Plans;
import milewarden.store.judged.Verdicts;
import milewarden.store.run.Courses;
import milewarden.store.run.EvidenceRows;
import milewarden.store.run.Models;
import milewarden.verdict.CampaignPlan;
import milewarden.verdict.Comparison;
import milewarden.verdict.Findings;
import milewarden.verdict.ModelBrief;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.PlanOnRecord;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.plan.Deviations;

/** Plans of campaigns: taken until the first file of the release, held against what was done. */
public final class Planning {
  private Planning() {}

  /** What a tester asks for; looks and material change are the policy's of that moment. */
  public record Wish(
      String firmware,
      String baseline,
      List<CampaignPlan.Planned> conditions,
      List<String> units,
      CampaignPlan.Stop stop,
      String words,
      String by) {
    public Wish {
      conditions = List.copyOf(conditions);
      units = List.copyOf(units);
    }
  }

  /** What came of planning. */
  public sealed interface Outcome {
    <R> R fold(Function<Planned, R> planned, Function<Refused, R> refused);
  }

  /** It is in force. */
  public record Planned(CampaignPlan plan) implements Outcome {
    @Override
    public <R> R fold(Function<Planned, R> p, Function<Refused, R> r) {
      return p.apply(this);
    }
  }

  /** Nothing was written. */
  public record Refused(Why why, Optional<Instant> firstFile) implements Outcome {
    /** Why, and what to do. */
    public String sentence(Digits digits) {
      return switch (why) {
        case LOCKED ->
            "The first file of this firmware was taken in on "
                + firstFile.map(digits::moment).orElse("an earlier day")
                + ": a plan made after it would be none. Say in the verdict's words that none was"
                + " made.";
        case NO_FIRMWARE -> "Name the firmware that is to be tested.";
        case NO_BASELINE -> "Test a release first: there is nothing to hold this one against.";
        case NO_CONDITION -> "Choose one condition or more in which it is to be run.";
        case NO_NAME -> "Say who plans it.";
      };
    }

    @Override
    public <R> R fold(Function<Planned, R> p, Function<Refused, R> r) {
      return r.apply(this);
    }
  }

  /** Why a plan is refused. */
  public enum Why {
    /** The first file is in: a plan made after it would be none. */
    LOCKED,
    NO_FIRMWARE,
    NO_BASELINE,
    NO_CONDITION,
    NO_NAME
  }

  /** Puts a plan in force; an earlier one of the release stays in the records. */
  public static Outcome plan(Database database, Models.Model model, Wish wish, Policy policy) {
    return database.write(tx -> plan(tx, model, wish, policy));
  }

  private static Outcome plan(Tx tx, Models.Model model, Wish wish, Policy policy) {
    if (wish.firmware().isBlank()) return refused(Why.NO_FIRMWARE);
    if (wish.baseline().isBlank()) return refused(Why.NO_BASELINE);
    if (wish.conditions().isEmpty()) return refused(Why.NO_CONDITION);
    if (wish.by().isBlank()) return refused(Why.NO_NAME);
    Optional<Instant> locked = Plans.lockedAt(tx, model.id(), wish.firmware());
    if (locked.isPresent()) return new Refused(Why.LOCKED, locked);
    CampaignPlan plan =
        new CampaignPlan(
            model.name(),
            wish.firmware(),
            wish.baseline(),
            wish.conditions(),
            wish.units(),
            policy.looks(),
            policy.materialChangePercent(),
            wish.stop(),
            wish.words(),
            wish.by(),
            tx.now());
    Plans.put(tx, model.id(), plan);
    return new Planned(plan);
  }

  private static Refused refused(Why why) {
    return new Refused(why, Optional.empty());
  }

  /**
   * What planning begins from.
   *
   * @param baseline the anchor, else the newest release with sessions; empty where there is none
   * @param sdPercent between its sessions
   * @param conditions in which it was run
   * @param units of the model, controls left out
   * @param stepM coarsest step of the display among its readings
   * @param courses by slug with the length of one lap or way, metres
   */
  public record Basis(
      Optional<String> baseline,
      OptionalDouble sdPercent,
      int sessions,
      List<CampaignPlan.Planned> conditions,
      List<String> units,
      OptionalDouble stepM,
      Map<String, Double> courses) {
    public Basis {
      conditions = List.copyOf(conditions);
      units = List.copyOf(units);
    }
  }

  /** What is known of a model before its next campaign. */
  public static Basis basis(Tx tx, Models.Model model) {
    Optional<ModelBrief.Release> release =
        JudgedBriefly.find(tx, model.id())
            .flatMap(
                j ->
                    j.anchor()
                        .flatMap(j::release)
                        .or(
                            () ->
                                j.releases().stream()
                                    .filter(ModelBrief.Release::tested)
                                    .reduce((a, b) -> b)));
    List<CampaignPlan.Planned> conditions =
        release.map(ModelBrief.Release::byCondition).orElse(List.of()).stream()
            .flatMap(f -> f.condition().stream())
            .map(CampaignPlan.Planned::of)
            .distinct()
            .toList();
    Map<String, Double> courses = new TreeMap<>();
    List<Courses.Known> inForce =
        conditions.isEmpty() ? List.of() : Courses.readable(tx, new ArrayList<>());
    for (CampaignPlan.Planned c : conditions)
      inForce.stream()
          .map(Courses.Known::course)
          .filter(k -> k.slug().text().equals(c.course()))
          .forEach(k -> courses.put(c.course(), k.referenceM()));
    Optional<ReleaseFigures> pooled = release.flatMap(ModelBrief.Release::pooled);
    return new Basis(
        release.map(r -> r.release().version()),
        pooled.map(ReleaseFigures::sdPercent).orElse(OptionalDouble.empty()),
        pooled.map(ReleaseFigures::sessions).orElse(0),
        conditions,
        Models.units(tx, model.id()).stream()
            .filter(u -> !u.control())
            .map(Models.Unit::name)
            .toList(),
        step(tx, model.id()),
        courses);
  }

  private record CoarsestStep(OptionalDouble m) {}

  /** Of thousands of readings, which a page of plans should not have to go through each time. */
  private static OptionalDouble step(Tx tx, ModelId model) {
    return Changes.unmoved(
            tx,
            List.of(model),
            CoarsestStep.class,
            model,
            () -> new CoarsestStep(EvidenceRows.coarsestStep(tx, model, Engine.VERSION)))
        .m();
  }

  /**
   * A plan with what became of it.
   *
   * @param earlier plans that it replaced, in order of time
   */
  public record Held(PlanOnRecord now, List<CampaignPlan> earlier) {
    public Held {
      earlier = List.copyOf(earlier);
    }
  }

  /** The plan of a release; empty where none was made. */
  public static Optional<Held> held(Tx tx, ModelId model, String firmware, Policy policy) {
    return held(tx, model, firmware, policy, Optional.empty());
  }

  /** The plan of a release as a verdict that is published now would keep it. */
  public static Optional<Held> drafted(
      Tx tx, ModelId model, Findings.OfRelease release, Policy policy) {
    int sessions = release.pooled().map(ReleaseFigures::sessions).orElse(0);
    Deviations.Spoken spoken =
        new Deviations.Spoken(
            Verdicts.lines(tx, model).size() + 1, OptionalInt.of(sessions), tx.now());
    return held(tx, model, release.release().version(), policy, Optional.of(spoken));
  }

  private static Optional<Held> held(
      Tx tx, ModelId model, String firmware, Policy policy, Optional<Deviations.Spoken> spoken) {
    List<CampaignPlan> plans = Plans.of(tx, model, firmware);
    if (plans.isEmpty()) return Optional.empty();
    CampaignPlan plan = plans.get(plans.size() - 1);
    List<PassEvidence> passes =
        EvidenceRows.of(tx, model, Engine.VERSION).stream()
            .filter(p -> !p.control() && p.model().equals(plan.model()))
            .filter(p -> p.firmware().equals(firmware))
            .toList();
    List<Deviations.Spoken> verdicts =
        Stream.concat(spoken(tx, model, firmware).stream(), spoken.stream()).toList();
    return Optional.of(
        new Held(
            new PlanOnRecord(
                plan,
                Plans.lockedAt(tx, model, firmware),
                Deviations.of(plan, passes, comparison(tx, model, firmware), verdicts, policy)),
            plans.subList(0, plans.size() - 1)));
  }

  private static List<Deviations.Spoken> spoken(Tx tx, ModelId model, String firmware) {
    List<Verdicts.Line> unread = new ArrayList<>();
    List<Verdicts.OnRecord> readable = Verdicts.readable(tx, model, unread);
    return Stream.concat(
            readable.stream()
                .map(Verdicts.OnRecord::verdict)
                .filter(v -> v.firmware().equals(firmware))
                .map(Deviations.Spoken::of),
            unread.stream()
                .filter(v -> v.firmware().equals(firmware))
                .map(v -> new Deviations.Spoken(v.number(), OptionalInt.empty(), v.publishedAt())))
        .sorted(Comparator.comparingInt(Deviations.Spoken::number))
        .toList();
  }

  private static Optional<Comparison> comparison(Tx tx, ModelId model, String firmware) {
    return Judgements.find(tx, model).stream()
        .flatMap(j -> j.comparisons().stream())
        .filter(c -> c.candidate().equals(firmware) && c.against() == Comparison.Against.ANCHOR)
        .findFirst();
  }
}
