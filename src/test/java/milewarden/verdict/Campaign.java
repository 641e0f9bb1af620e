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

/** Builds an invented history session by session. */
final class Campaign {
  static final LocalDate FIRST = LocalDate.of(2026, 1, 5);
  static final ZoneId ZONE = ZoneOffset.UTC;
  static final Condition LOOP = condition("harbour-loop", "v1", Carriage.FIXED);
  static final Condition SWING = condition("harbour-loop", "v1", Carriage.SWING_LEFT);

  final List<ModelHistory.Release> releases = new ArrayList<>();
  final List<PassEvidence> passes = new ArrayList<>();
  final List<ModelHistory.VerdictOnRecord> verdicts = new ArrayList<>();
  final List<Look> looks = new ArrayList<>();
  final List<ModelHistory.OpenDue> open = new ArrayList<>();
  Optional<ModelHistory.UnitVariance> others = Optional.empty();
  double referencePercent = 0;
  Policy policy = Policy.defaults();
  private long next = 1;

  static Condition condition(String course, String version, Carriage carriage) {
    return new Condition(course, version, SkyView.OPEN, carriage, Gait.RUN, "");
  }

  Campaign release(String version) {
    LocalDate date = FIRST.plusDays(30L * releases.size());
    releases.add(
        new ModelHistory.Release(new FirmwareRelease(version, date, false), Optional.of(at(date))));
    return this;
  }

  static Instant at(LocalDate date) {
    return date.atTime(7, 0).toInstant(ZoneOffset.UTC);
  }

  /** One session per error, one day after the other, one pass each, on one unit. */
  Campaign sessions(String firmware, int firstDay, double... errors) {
    for (int i = 0; i < errors.length; i++)
      track(firmware, firstDay + i, LOOP, "unit-a", Direction.FORWARD, errors[i]);
    return this;
  }

  Campaign track(
      String firmware, int day, Condition in, String unit, Direction direction, double error) {
    Errors errors =
        new Errors(
            OptionalDouble.of(error),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            Optional.empty());
    return add(firmware, day, in, unit, direction, errors, 2000, Double.NaN, false);
  }

  Campaign control(int day, double error) {
    Errors errors =
        new Errors(
            OptionalDouble.of(error),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            Optional.empty());
    return add("0.9", day, LOOP, "control", Direction.FORWARD, errors, 2000, Double.NaN, true);
  }

  /** A distance read off a display that cuts off after {@code step} metres. */
  Campaign shown(String firmware, int day, double referenceM, double shownM, double stepM) {
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

  ModelHistory history() {
    return new ModelHistory("Alder", releases, passes, verdicts, looks, open, others);
  }

  ModelJudgement judge() {
    return judge(FIRST.plusDays(300));
  }

  ModelJudgement judge(LocalDate today) {
    return Judge.judge(history(), policy, at(today), ZONE);
  }

  /** Judges, and keeps the looks as the store does. */
  ModelJudgement judgeAndKeep(LocalDate today) {
    ModelJudgement judged = judge(today);
    looks.clear();
    looks.addAll(judged.looks());
    return judged;
  }

  Campaign publish(String firmware, LocalDate today) {
    PublishedVerdict verdict =
        PublishedVerdict.of(
                history(),
                judge(today),
                firmware,
                policy,
                java.util.Map.of(),
                "As measured.",
                PublishedVerdict.Reason.NEW_FIRMWARE,
                at(today))
            .orElseThrow();
    verdicts.add(new ModelHistory.VerdictOnRecord(verdict, Optional.empty()));
    return this;
  }

  static Comparison comparison(
      ModelJudgement judged, String candidate, Comparison.Against against) {
    return judged.comparisons().stream()
        .filter(c -> c.candidate().equals(candidate) && c.against() == against)
        .findFirst()
        .orElseThrow();
  }
}
