package milewarden.course;

import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import milewarden.course.FieldSheet.Taped;
import milewarden.course.FieldSheet.Taping;
import milewarden.course.LengthBudget.Builder;
import milewarden.course.LengthBudget.Source;
import milewarden.course.LengthBudget.Term;
import milewarden.course.LengthBudget.Warning.Kind;
import milewarden.statistics.Sample;

/**
 * The length from a steel tape: raw length times certified over nominal length, times 1 + alpha (T
 * - T0).
 */
final class TapeBudget {
  /** How well the temperature of a tape on the ground is known: common practice, no source. */
  private static final double TEMPERATURE_C = 2;

  /** Taken where nobody read a thermometer: common practice, no source. */
  private static final double TEMPERATURE_NOT_NOTED_C = 15;

  /** Of a tape without a stated uncertainty, as a share: common practice, no source. */
  private static final double CERTIFICATE = 0.00005;

  /** Of laying the tape down once: alignment, tension, sag; common practice, no source. */
  private static final double LAYING_M = 0.003;

  /** As for wheels. */
  private static final double PASSES_APART = 0.0008;

  private TapeBudget() {}

  /**
   * The true length of one reading, metres; not corrected for temperature where it is not known.
   */
  static double trueM(Taped tape, Taping reading) {
    double t = reading.temperatureC().orElse(tape.certificateC());
    return reading.rawM()
        * (tape.certifiedM() / tape.nominalM())
        * (1 + tape.expansionPerDegree() * (t - tape.certificateC()));
  }

  static LengthBudget of(Taped tape, FieldSheet sheet) {
    Builder budget = new Builder();
    double[] lengths = tape.passes().stream().mapToDouble(p -> trueM(tape, p)).toArray();
    Sample sample = Sample.of(lengths);
    double length = sample.mean();
    boolean uncertain = tape.certifiedUncertaintyM().isEmpty();
    double u = tape.certifiedUncertaintyM().orElse(CERTIFICATE * tape.certifiedM());
    budget.add(Term.known(Source.TAPE_CERTIFICATE, u / tape.certifiedM() * length, uncertain));
    boolean noted = tape.passes().stream().allMatch(p -> p.temperatureC().isPresent());
    double degrees = noted ? TEMPERATURE_C : TEMPERATURE_NOT_NOTED_C;
    if (!noted) budget.warn(Kind.TAPE_NOT_CORRECTED, "±%.0f °C is taken", degrees);
    budget.add(
        Term.within(Source.TEMPERATURE, tape.expansionPerDegree() * degrees * length, !noted));
    laying(tape, length, lengths.length, budget);
    passes(sample, lengths, budget);
    return budget.of(length, OptionalDouble.empty(), sheet, Optional.empty());
  }

  /** Independent at each laying: grows with the root of their number. */
  private static void laying(Taped tape, double length, int passes, Builder budget) {
    double layings = Math.ceil(length / tape.nominalM());
    double each = tape.perLengthM().orElse(LAYING_M);
    budget.add(
        Term.known(
            Source.TAPE_LAYING, each * Math.sqrt(layings / passes), tape.perLengthM().isEmpty()));
  }

  private static void passes(Sample sample, double[] lengths, Builder budget) {
    if (lengths.length == 1) {
      // A single taping is checked by nothing; its spread is that of its layings.
      budget.warn(Kind.ONE_PASS, "its spread is that of laying the tape");
      return;
    }
    budget.add(
        Term.repeated(Source.PASSES, sample.sd() / Math.sqrt(lengths.length), lengths.length - 1));
    double most = DoubleStream.of(lengths).max().orElseThrow();
    double apart = most / DoubleStream.of(lengths).min().orElseThrow() - 1;
    if (apart > PASSES_APART) budget.warn(Kind.PASSES_APART, "%.3f %%", 100 * apart);
  }
}
