package milewarden.benchmark;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.UnaryOperator;
import java.util.random.RandomGenerator;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.Measurer;
import milewarden.accuracy.PassMeasurement;
import milewarden.accuracy.fingerprint.Fingerprint;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.course.SkyView;
import milewarden.device.Carriage;
import milewarden.device.FirmwareRelease;
import milewarden.device.Gait;
import milewarden.simulator.Odometer;
import milewarden.simulator.Receiver;
import milewarden.simulator.Seeds;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.verdict.Comparison;
import milewarden.verdict.Condition;
import milewarden.verdict.DueItem;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.SmoothingChange;
import milewarden.verdict.SmoothingLag;
import milewarden.verdict.judging.Judge;

/**
 * How often a release is said to smooth its positions otherwise than the one before: where it does,
 * where it doesn't, and where only the noise changed. Campaigns of 8 sessions and 12, a loop walked
 * both ways and a track run, on simulated tracks through engine and judge. The device counts its
 * distance by speed, so that no filter of positions moves it.
 */
public final class SmoothingRates {
  private static final LocalDate FIRST = LocalDate.of(2026, 1, 5);
  private static final int BEFORE = 8;
  private static final int AFTER = 12;
  // As the campaign of the demo: percent of the distance, of a day and of a unit's day. No source.
  private static final double DAY_PERCENT = 0.10;
  private static final double UNIT_PERCENT = 0.06;
  private static final List<ReferenceCourse> COURSES =
      milewarden.simulator.campaign.Campaign.invented(FIRST, 1).courses();

  private SmoothingRates() {}

  public static void main(String[] args) {
    int campaigns = args.length > 0 ? Integer.parseInt(args[0]) : 300;
    long from = args.length > 1 ? Long.parseLong(args[1]) : 1_000_000;
    String named = args.length > 2 ? args[2] : "";
    System.out.println(
        "lag before, after; noise x: called by look 1, 2, 3; interval holds; distance equivalent");
    for (Case c : Case.values())
      if (c.name().startsWith(named)) System.out.println(rates(c, campaigns, from));
  }

  /** What is put in: lags in seconds, and the factor of the later release's noise. */
  public enum Case {
    SAME_NONE(0, 0, 1),
    SAME_2(2, 2, 1),
    SAME_4(4, 4, 1),
    NOISE_DOUBLED(0, 0, 2),
    NOISE_DOUBLED_2(2, 2, 2),
    NOISE_HALVED(0, 0, 0.5),
    FROM_NONE_TO_2(0, 2, 1),
    FROM_NONE_TO_4(0, 4, 1),
    FROM_2_TO_4(2, 4, 1),
    FROM_4_TO_2(4, 2, 1),
    FROM_4_TO_NONE(4, 0, 1);

    final double beforeS;
    final double afterS;
    final double noise;

    Case(double beforeS, double afterS, double noise) {
      this.beforeS = beforeS;
      this.afterS = afterS;
      this.noise = noise;
    }
  }

  /**
   * Shares of campaigns, 0 to 1.
   *
   * @param called at least once by look 1, by look 2, by look 3
   * @param held whose interval at the end holds the change put in
   * @param asBefore whose distance is found equivalent at the end
   * @param due of which an item is due at the end
   */
  public record Rates(
      Case of, int campaigns, List<Double> called, double held, double asBefore, double due) {
    @Override
    public String toString() {
      return String.format(
          Locale.ROOT,
          "%-16s %.3f %.3f %.3f (± %.3f); holds %.3f; equivalent %.3f; due %.3f",
          of,
          called.get(0),
          called.get(1),
          called.get(2),
          Math.sqrt(called.get(2) * (1 - called.get(2)) / campaigns),
          held,
          asBefore,
          due);
    }
  }

  /** Over this many seeds. */
  public static Rates rates(Case c, int campaigns, long firstSeed) {
    double[] called = new double[3];
    double held = 0;
    double asBefore = 0;
    double due = 0;
    for (long seed = firstSeed; seed < firstSeed + campaigns; seed++) {
      Made made = made(c, seed);
      boolean ever = false;
      List<Policy.LookPlan> looks = Policy.defaults().looks();
      for (int look = 0; look < looks.size(); look++) {
        ModelJudgement j = judge(made, looks.get(look).sessions());
        Optional<SmoothingChange> s = j.smoothingOf("2.0");
        ever |= s.filter(SmoothingChange::changed).isPresent();
        if (ever) called[look]++;
        if (look < looks.size() - 1) continue;
        double put = c.afterS - c.beforeS;
        if (s.filter(x -> x.lowS() <= put && put <= x.highS()).isPresent()) held++;
        if (s.flatMap(SmoothingChange::distance)
            .filter(Comparison.Outcome.EQUIVALENT::equals)
            .isPresent()) asBefore++;
        if (j.due().stream().anyMatch(d -> d.cause() == DueItem.Cause.SMOOTHING_CHANGED)) due++;
      }
    }
    double n = campaigns;
    return new Rates(
        c,
        campaigns,
        List.of(called[0] / n, called[1] / n, called[2] / n),
        held / n,
        asBefore / n,
        due / n);
  }

  /** A campaign as the judge sees it. */
  private record Made(List<PassEvidence> passes, Map<Long, SmoothingLag> lags) {}

  /** With so many sessions of the later release. */
  private static ModelJudgement judge(Made made, int sessions) {
    Instant end =
        FIRST.plusDays(10L * (BEFORE + sessions)).atStartOfDay().toInstant(ZoneOffset.UTC);
    List<PassEvidence> passes =
        made.passes().stream().filter(p -> p.sessionStart().isBefore(end)).toList();
    ModelHistory history =
        new ModelHistory(
            "Alder",
            List.of(release("1.0", 0), release("2.0", 10 * BEFORE - 5)),
            passes,
            List.of(),
            List.of(),
            List.of(),
            Optional.empty());
    return Judge.judge(history.withLags(made.lags()), Policy.defaults(), end, ZoneOffset.UTC);
  }

  private static ModelHistory.Release release(String version, int day) {
    return new ModelHistory.Release(
        new FirmwareRelease(version, FIRST.plusDays(day), false), Optional.empty());
  }

  private static Made made(Case c, long seed) {
    List<PassEvidence> passes = new ArrayList<>();
    Map<Long, SmoothingLag> lags = new HashMap<>();
    RandomGenerator device = Seeds.random(seed, "device");
    double sigma = 0.7 + 1.3 * device.nextDouble();
    Receiver usual =
        Receiver.PERFECT
            .withNoise(sigma, 20 + 80 * device.nextDouble(), 0.05)
            .withDecimals(7)
            .withOdometer(new Odometer(Odometer.Source.SPEED, 1.002));
    for (int day = 0; day < BEFORE + AFTER; day++) {
      boolean after = day >= BEFORE;
      RandomGenerator sky = Seeds.random(seed, "day " + day);
      double percent = Math.hypot(DAY_PERCENT, UNIT_PERCENT) * sky.nextGaussian();
      double noise = Math.max(0.5, 1 + 0.10 * sky.nextGaussian()) * (after ? c.noise : 1);
      double lag = after ? c.afterS : c.beforeS;
      Receiver receiver = lag > 0 ? usual.withSmoothing(lag) : usual;
      outing(seed, day, receiver, noise, percent, passes, lags);
    }
    return new Made(passes, lags);
  }

  private static void outing(
      long seed,
      int day,
      Receiver receiver,
      double noise,
      double percent,
      List<PassEvidence> passes,
      Map<Long, SmoothingLag> lags) {
    ReferenceCourse loop = COURSES.get(0);
    ReferenceCourse oval = COURSES.get(2);
    List<UnaryOperator<Walk>> legs =
        List.of(
            w -> w.withGait(Gait.WALK, 1.4),
            w -> w.withGait(Gait.WALK, 1.4).withDirection(Direction.REVERSE),
            w -> w.withGait(Gait.RUN, 3.4).withLaps(4));
    for (int k = 0; k < legs.size(); k++) {
      ReferenceCourse course = k < 2 ? loop : oval;
      Walk walk =
          legs.get(k)
              .apply(
                  Walk.of(course)
                      .withCarriage(Carriage.SWING_LEFT)
                      .withStanding(5)
                      .withVariation(0.04, 0.15));
      long mixed = Seeds.mix(seed, "leg " + day + " " + k);
      Sky sky = new Sky(Seeds.mix(mixed, "sky"), 0.5, 200, noise, percent);
      Measurer.measure(
              TrackSimulator.simulate(walk, receiver, sky, mixed).track(),
              course,
              MeasureOptions.NONE)
          .passes()
          .forEach(p -> add(p, day, walk, passes, lags));
    }
  }

  private static void add(
      PassMeasurement p,
      int day,
      Walk walk,
      List<PassEvidence> passes,
      Map<Long, SmoothingLag> lags) {
    LocalDate date = FIRST.plusDays(10L * day);
    long id = passes.size() + 1L;
    passes.add(
        new PassEvidence(
            id,
            "day-" + day,
            date.atTime(LocalTime.of(7, 0)).toInstant(ZoneOffset.UTC),
            date,
            "Alder",
            "unit-1",
            false,
            day < BEFORE ? "1.0" : "2.0",
            new Condition(
                walk.course().slug().toString(),
                "v1",
                SkyView.OPEN,
                Carriage.SWING_LEFT,
                walk.gait(),
                ""),
            walk.direction(),
            p.errors(),
            walk.referenceM(),
            0.05,
            Double.NaN,
            Optional.empty()));
    for (Fingerprint f : p.fingerprints())
      if (f.kind() == Fingerprint.Kind.SMOOTHING_LAG
          && f.value().isPresent()
          && f.high().isPresent())
        lags.put(
            id,
            new SmoothingLag(f.value().getAsDouble(), f.low().orElse(0), f.high().getAsDouble()));
  }
}
