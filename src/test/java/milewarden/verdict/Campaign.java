package milewarden.verdict;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.accuracy.Errors;
import milewarden.course.Direction;
import milewarden.course.SkyView;
import milewarden.device.Carriage;
import milewarden.device.FirmwareRelease;
import milewarden.device.Gait;
import milewarden.units.PercentRange;
import milewarden.verdict.judging.Judge;

/** Builds an invented history session by session. */
public final class Campaign {
  public static final LocalDate FIRST = LocalDate.of(2026, 1, 5);
  public static final ZoneId ZONE = ZoneOffset.UTC;
  public static final Condition LOOP = condition("harbour-loop", "v1", Carriage.FIXED);
  public static final Condition SWING = condition("harbour-loop", "v1", Carriage.SWING_LEFT);

  public final List<ModelHistory.Release> releases = new ArrayList<>();
  public final List<PassEvidence> passes = new ArrayList<>();
  public final List<ModelHistory.VerdictOnRecord> verdicts = new ArrayList<>();
  public final List<Look> looks = new ArrayList<>();
  public final List<ModelHistory.OpenDue> open = new ArrayList<>();
  public Optional<ModelHistory.UnitVariance> others = Optional.empty();
  public Arrivals arrivals = Arrivals.LONG_AGO;
  public double referencePercent = 0;
  public Policy policy = Policy.defaults();
  private long next = 1;

  public static Condition condition(String course, String version, Carriage carriage) {
    return new Condition(course, version, SkyView.OPEN, carriage, Gait.RUN, "");
  }

  public Campaign release(String version) {
    LocalDate date = FIRST.plusDays(30L * releases.size());
    releases.add(
        new ModelHistory.Release(new FirmwareRelease(version, date, false), Optional.of(at(date))));
    return this;
  }

  public static Instant at(LocalDate date) {
    return date.atTime(7, 0).toInstant(ZoneOffset.UTC);
  }

  /** One session per error, one day after the other, one pass each, on one unit. */
  public Campaign sessions(String firmware, int firstDay, double... errors) {
    for (int i = 0; i < errors.length; i++)
      track(firmware, firstDay + i, LOOP, "unit-a", Direction.FORWARD, errors[i]);
    return this;
  }

  public Campaign track(
      String firmware, int day, Condition in, String unit, Direction direction, double error) {
    Errors errors =
        new Errors(
            OptionalDouble.of(error),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            Optional.empty());
    return add(firmware, day, in, unit, direction, errors, 2000, Double.NaN, false);
  }

  public Campaign control(int day, double error) {
    return control(day, LOOP, error);
  }

  public Campaign control(int day, Condition in, double error) {
    Errors errors =
        new Errors(
            OptionalDouble.of(error),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            Optional.empty());
    return add("0.9", day, in, "control", Direction.FORWARD, errors, 2000, Double.NaN, true);
  }

  /** A distance read off a display that cuts off after {@code step} metres. */
  public Campaign shown(String firmware, int day, double referenceM, double shownM, double stepM) {
    double read = 100 * (shownM - referenceM) / referenceM;
    double high = 100 * (shownM + stepM - referenceM) / referenceM;
    Errors errors =
        new Errors(
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.of(read),
            Optional.of(new PercentRange(read, high)));
    return add(firmware, day, LOOP, "unit-a", Direction.FORWARD, errors, referenceM, stepM, false);
  }

  private Campaign add(
      String firmware,
      int day,
      Condition in,
      String unit,
      Direction direction,
      Errors errors,
      double referenceM,
      double stepM,
      boolean control) {
    LocalDate date = FIRST.plusDays(day);
    passes.add(
        new PassEvidence(
            next++,
            "day-" + day,
            at(date),
            date,
            control ? "Elder" : "Alder",
            unit,
            control,
            firmware,
            in,
            direction,
            errors,
            referenceM,
            referencePercent,
            stepM,
            Optional.empty()));
    return this;
  }

  public ModelHistory history() {
    return new ModelHistory("Alder", releases, passes, verdicts, looks, open, others)
        .withArrivals(arrivals);
  }

  public ModelJudgement judge() {
    return judge(FIRST.plusDays(300));
  }

  public ModelJudgement judge(LocalDate today) {
    return judge(at(today));
  }

  public ModelJudgement judge(Instant now) {
    return Judge.judge(history(), policy, now, ZONE);
  }

  /** Judges, and keeps the looks as the store does. */
  public ModelJudgement judgeAndKeep(LocalDate today) {
    return judgeAndKeep(at(today));
  }

  public ModelJudgement judgeAndKeep(Instant now) {
    ModelJudgement judged = judge(now);
    looks.clear();
    looks.addAll(judged.looks());
    return judged;
  }

  public Campaign publish(String firmware, LocalDate today) {
    PublishedVerdict verdict = verdict(judge(today).release(firmware).orElseThrow(), today);
    verdicts.add(new ModelHistory.VerdictOnRecord(verdict, Optional.empty()));
    // Under the limit that it claims itself, as the one who publishes does it.
    Threshold.State own =
        judge(today).release(firmware).flatMap(ReleaseJudgement::threshold).orElseThrow().state();
    verdicts.set(
        verdicts.size() - 1,
        new ModelHistory.VerdictOnRecord(verdict.withThreshold(own), Optional.empty()));
    return this;
  }

  /** On a release's figures as they stand. */
  private PublishedVerdict verdict(ReleaseJudgement release, LocalDate today) {
    ReleaseFigures figures = release.pooled().orElseThrow();
    List<Condition> conditions =
        release.byCondition().stream().flatMap(f -> f.condition().stream()).toList();
    return new PublishedVerdict(
        "Alder",
        verdicts.size() + 1,
        release.release().version(),
        release.sessions().stream().flatMap(s -> s.units().stream()).distinct().sorted().toList(),
        conditions,
        release.conformity(),
        figures,
        release.byCondition(),
        release.threshold().map(Threshold::state).orElse(Threshold.State.UNDETERMINED),
        release.sessions().stream()
            .flatMap(
                s ->
                    s.resultIds().stream()
                        .map(
                            id ->
                                new PublishedVerdict.RunUsed(
                                    id, s.session(), s.units().get(0), "")))
            .toList(),
        conditions.stream()
            .map(c -> new PublishedVerdict.CourseUsed(c.course(), c.courseVersion()))
            .distinct()
            .toList(),
        policy,
        milewarden.accuracy.Engine.VERSION,
        figures.theseUnitsOnly(),
        "As measured.",
        at(today),
        Optional.empty(),
        Optional.empty());
  }

  /** The same pass under another firmware. */
  public static PassEvidence with(PassEvidence p, String firmware) {
    return new PassEvidence(
        p.resultId(),
        p.session(),
        p.sessionStart(),
        p.date(),
        p.model(),
        p.unit(),
        p.control(),
        firmware,
        p.condition(),
        p.direction(),
        p.errors(),
        p.referenceM(),
        p.referenceStandardUncertaintyPercent(),
        p.displayStepM(),
        p.exclusion());
  }

  public static Comparison comparison(
      ModelJudgement judged, String candidate, Comparison.Against against) {
    return judged.comparisons().stream()
        .filter(c -> c.candidate().equals(candidate) && c.against() == against)
        .findFirst()
        .orElseThrow();
  }
}
