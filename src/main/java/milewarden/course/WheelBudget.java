package milewarden.course;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import milewarden.course.FieldSheet.Count;
import milewarden.course.FieldSheet.Counted;
import milewarden.course.LengthBudget.Builder;
import milewarden.course.LengthBudget.Calibration;
import milewarden.course.LengthBudget.Source;
import milewarden.course.LengthBudget.Term;
import milewarden.course.LengthBudget.Warning.Kind;
import milewarden.statistics.Sample;

/**
 * The length from a counter: L = N / K, with N the mean counts of the passes and K the mean of the
 * constants before and after. Relative uncertainties of N and K are those of L.
 */
final class WheelBudget {
  /** Above this the constants before and after warn, and ask for a new measurement: our rule. */
  private static final double MOVED = 0.0005;

  private static final double AGAIN = 0.001;

  /** Repeated surveys that differ by more are done again; DOMAIN of measurers, a forum's figure. */
  private static final double PASSES_APART = 0.0008;

  /** Calibration courses of road measurers are 300 m or longer: measurers' manuals. */
  private static final double SHORT_M = 300;

  /** Rides before and after, by the same manuals. */
  private static final int RIDES = 4;

  /** What a steel tape gives with care, as a share: common practice, no source. */
  private static final double CALIBRATION = 0.0001;

  /** One pneumatic tyre, measured: 90 millionths per degree; a measurers' forum. */
  private static final double TYRE = 90e-6;

  /** Aluminium, the material of most wheels: 23 millionths per degree; handbook value, memory. */
  private static final double WHEEL = 23e-6;

  /** How well the wheel's temperature is known: common practice, no source. */
  private static final double TEMPERATURE_C = 1;

  /** Taken where nobody read a thermometer: common practice, no source. */
  private static final double TEMPERATURE_NOT_NOTED_C = 5;

  private final Counted c;
  private final Builder budget = new Builder();

  private WheelBudget(Counted counted) {
    this.c = counted;
  }

  static LengthBudget of(Counted counted, FieldSheet sheet) {
    return new WheelBudget(counted).work(sheet);
  }

  private LengthBudget work(FieldSheet sheet) {
    double[] before = counts(c.before(), OptionalDouble.empty());
    double[] after = counts(c.after(), OptionalDouble.empty());
    double kBefore = Sample.of(before).mean() / c.calibrationM();
    double kAfter = after.length > 0 ? Sample.of(after).mean() / c.calibrationM() : kBefore;
    double k = (kBefore + kAfter) / 2;
    OptionalDouble about = c.aboutM();
    OptionalDouble expected =
        about.isPresent() ? OptionalDouble.of(about.getAsDouble() * k) : OptionalDouble.empty();
    double[] passes = counts(c.passes(), expected);
    double length = Sample.of(passes).mean() / k;
    calibrationLength(length);
    rides(before, after, length);
    drift(kBefore, kAfter, after.length > 0, length);
    temperature(length);
    resolution(k, length, before.length + after.length, passes.length);
    passes(passes, length);
    if (c.calibrationM() < SHORT_M) budget.warn(Kind.SHORT_CALIBRATION, "%.1f m", c.calibrationM());
    Calibration calibration =
        new Calibration(
            1000 * kBefore,
            after.length > 0 ? OptionalDouble.of(1000 * kAfter) : OptionalDouble.empty(),
            1000 * k,
            DoubleStream.of(passes).boxed().toList());
    return budget.of(length, OptionalDouble.empty(), sheet, Optional.of(calibration));
  }

  /** Counts of each ride with the counter's turns. */
  private double[] counts(List<Count> rides, OptionalDouble expected) {
    double[] counts = new double[rides.size()];
    for (int i = 0; i < counts.length; i++) counts[i] = counts(rides.get(i), expected);
    return counts;
  }

  private double counts(Count ride, OptionalDouble expected) {
    double plain = ride.end() - ride.start();
    double modulus = c.modulus();
    if (ride.turns().isPresent())
      return ride.turns().getAsInt() == 0 ? plain : plain + ride.turns().getAsInt() * modulus;
    if (Double.isInfinite(modulus)) return plain;
    double fewest = plain > 0 ? 0 : 1;
    if (expected.isPresent())
      return plain
          + modulus * Math.max(fewest, Math.rint((expected.getAsDouble() - plain) / modulus));
    if (fewest > 0)
      budget.warn(Kind.COUNTER_TURNS_ASSUMED, "%.1f to %.1f", ride.start(), ride.end());
    return plain + modulus * fewest;
  }

  private void calibrationLength(double length) {
    boolean assumed = c.calibrationUncertaintyM().isEmpty();
    double u = c.calibrationUncertaintyM().orElse(CALIBRATION * c.calibrationM());
    budget.add(Term.known(Source.CALIBRATION_LENGTH, u / c.calibrationM() * length, assumed));
    if (assumed) budget.warn(Kind.CALIBRATION_UNCERTAINTY_ASSUMED, "%.3f m", u);
  }

  /**
   * Spread of the rides, pooled over before and after. Of K = (K1 + K2) / 2 the variance is s^2
   * (1/n1 + 1/n2) / 4.
   */
  private void rides(double[] before, double[] after, double length) {
    Sample first = Sample.of(before);
    Sample second = Sample.of(after);
    int df = Math.max(0, before.length - 1) + Math.max(0, after.length - 1);
    if (before.length < RIDES || after.length > 0 && after.length < RIDES)
      budget.warn(Kind.FEW_RIDES, "%d before, %d after", before.length, after.length);
    if (df == 0) return;
    double variance = (first.sumOfSquares() + second.sumOfSquares()) / df;
    double ofMean =
        after.length > 0
            ? variance * (1.0 / before.length + 1.0 / after.length) / 4
            : variance / before.length;
    double mean = after.length > 0 ? (first.mean() + second.mean()) / 2 : first.mean();
    budget.add(Term.repeated(Source.CALIBRATION_RIDES, Math.sqrt(ofMean) / mean * length, df));
  }

  /** While the course was measured the constant lay somewhere between the two. */
  private void drift(double before, double after, boolean known, double length) {
    double change = Math.abs(after / before - 1);
    if (!known) {
      budget.warn(Kind.NO_RIDES_AFTER, "%.2f %% is taken as its change", 100 * AGAIN);
      budget.add(Term.within(Source.DRIFT, AGAIN / 2 * length, true));
      return;
    }
    budget.add(Term.within(Source.DRIFT, change / 2 * length, false));
    if (change > AGAIN) budget.warn(Kind.MEASURE_AGAIN, "%.3f %%", 100 * change);
    else if (change > MOVED) budget.warn(Kind.CONSTANT_MOVED, "%.3f %%", 100 * change);
  }

  /** The wheel on the course was warmer or colder than on the calibration course. */
  private void temperature(double length) {
    double expansion =
        c.expansionPerDegree().orElse(c.method() == Method.CALIBRATED_BICYCLE ? TYRE : WHEEL);
    OptionalDouble there = mean(c.passes());
    OptionalDouble before = mean(c.before());
    OptionalDouble after = mean(c.after());
    boolean noted =
        there.isPresent() && before.isPresent() && (after.isPresent() || c.after().isEmpty());
    if (!noted) budget.warn(Kind.TEMPERATURE_NOT_NOTED, "%.0f °C", TEMPERATURE_NOT_NOTED_C);
    double degrees =
        noted
            ? Math.abs(
                    there.getAsDouble()
                        - (before.getAsDouble() + after.orElse(before.getAsDouble())) / 2)
                + TEMPERATURE_C
            : TEMPERATURE_NOT_NOTED_C;
    budget.add(Term.within(Source.TEMPERATURE, expansion * degrees * length, !noted));
  }

  private static OptionalDouble mean(List<Count> rides) {
    if (rides.stream().anyMatch(r -> r.temperatureC().isEmpty())) return OptionalDouble.empty();
    return rides.stream().mapToDouble(r -> r.temperatureC().getAsDouble()).average();
  }

  /**
   * One count, rectangular (GUM F.2.2.1: step over root 12), of each mean: n rides read
   * independently share it.
   */
  private void resolution(double k, double length, int rides, int passes) {
    double step = c.stepCounts() / Math.sqrt(12);
    double onCourse = step / k / Math.sqrt(passes);
    double onCalibration = step / k / c.calibrationM() * length / Math.sqrt(rides);
    budget.add(Term.known(Source.RESOLUTION, Math.hypot(onCourse, onCalibration), false));
  }

  private void passes(double[] counts, double length) {
    Sample passes = Sample.of(counts);
    if (counts.length == 1) {
      budget.warn(Kind.ONE_PASS, "%.2f %% is taken as its spread", 100 * PASSES_APART);
      budget.add(Term.within(Source.PASSES, PASSES_APART * length, true));
      return;
    }
    double relative = passes.sd() / Math.sqrt(counts.length) / passes.mean();
    budget.add(Term.repeated(Source.PASSES, relative * length, counts.length - 1));
    double range = DoubleStream.of(counts).max().orElseThrow();
    double apart = range / DoubleStream.of(counts).min().orElseThrow() - 1;
    if (apart > PASSES_APART) budget.warn(Kind.PASSES_APART, "%.3f %%", 100 * apart);
  }
}
