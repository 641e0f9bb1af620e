package milewarden.course;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.statistics.Distributions;
import milewarden.statistics.UncertaintySum;

/**
 * A length worked out from a field sheet, and how well it is known.
 *
 * @param lengthM of one traversal or lap, on the ground along the slope; for a certificate its
 *     figure, without the safety factor
 * @param safetyFactor by which the reference is longer than that; empty where the length is no
 *     certified figure. It is never put on by itself
 * @param terms contributions in order of the sheet; their squares add up to that of {@code
 *     standardUncertaintyM}
 * @param standardUncertaintyM combined, of the reference length
 * @param degreesOfFreedom effective; infinite where no term has finite ones
 * @param coverageFactor k for 95 %
 * @param calibration of a wheel or bicycle
 * @see "JCGM 100:2008 (GUM): 4.3.7 for limits without more knowledge (half width over root 3),
 *     5.1.2 for the sum, G.4.1 for the degrees of freedom"
 */
public record LengthBudget(
    double lengthM,
    OptionalDouble safetyFactor,
    List<Term> terms,
    double standardUncertaintyM,
    double degreesOfFreedom,
    double coverageFactor,
    Optional<Calibration> calibration,
    List<Warning> warnings) {
  private static final double LEVEL = 0.95;

  public LengthBudget {
    terms = List.copyOf(terms);
    warnings = List.copyOf(warnings);
  }

  /** Where an uncertainty comes from. */
  public enum Source {
    CALIBRATION_LENGTH,
    CALIBRATION_RIDES,
    DRIFT,
    TEMPERATURE,
    RESOLUTION,
    PASSES,
    TAPE_CERTIFICATE,
    TAPE_LAYING,
    CERTIFIED_FIGURE,
    MARKS,
    PATH,
    OTHER
  }

  /**
   * One contribution.
   *
   * @param name of one that the tester added; else empty
   * @param standardM its standard uncertainty of the length
   * @param degreesOfFreedom infinite where it rests on limits that surely hold (GUM G.4.3)
   * @param assumed true where the sheet says nothing and a bound of ours stands in
   */
  public record Term(
      Source source, String name, double standardM, double degreesOfFreedom, boolean assumed) {
    static Term repeated(Source source, double standardM, double degreesOfFreedom) {
      return new Term(source, "", standardM, degreesOfFreedom, false);
    }

    /** From limits on both sides: half width over the root of 3 (GUM 4.3.7). */
    static Term within(Source source, double halfWidthM, boolean assumed) {
      return new Term(source, "", halfWidthM / Math.sqrt(3), Double.POSITIVE_INFINITY, assumed);
    }

    static Term known(Source source, double standardM, boolean assumed) {
      return new Term(source, "", standardM, Double.POSITIVE_INFINITY, assumed);
    }
  }

  /**
   * The constants of a wheel or bicycle, counts per kilometre, without any safety factor.
   *
   * @param beforePerKm mean of the rides before
   * @param afterPerKm mean of the rides after; empty where there were none
   * @param usedPerKm the mean of both, by which counts were divided
   * @param passCounts counts of each pass, turns of the counter added
   */
  public record Calibration(
      double beforePerKm, OptionalDouble afterPerKm, double usedPerKm, List<Double> passCounts) {
    public Calibration {
      passCounts = List.copyOf(passCounts);
    }

    /** After against before, in percent. */
    public OptionalDouble changePercent() {
      return afterPerKm.isPresent()
          ? OptionalDouble.of(100 * (afterPerKm.getAsDouble() / beforePerKm - 1))
          : OptionalDouble.empty();
    }
  }

  /** What a reader of the result must know. */
  public record Warning(Kind kind, String detail) {
    /** Closed list. */
    public enum Kind {
      /** Before and after differ by more than 0.1 %: measure again. */
      MEASURE_AGAIN,
      /** Before and after differ by more than 0.05 %. */
      CONSTANT_MOVED,
      NO_RIDES_AFTER,
      FEW_RIDES,
      SHORT_CALIBRATION,
      CALIBRATION_UNCERTAINTY_ASSUMED,
      COUNTER_TURNS_ASSUMED,
      ONE_PASS,
      /** The passes differ by more than 0.08 %. */
      PASSES_APART,
      TEMPERATURE_NOT_NOTED,
      TAPE_NOT_CORRECTED,
      PATH_NOT_SAID,
      /** The factor of a certificate is part of the reference. */
      FACTOR_CARRIED,
      FACTOR_NOT_CARRIED
    }
  }

  /** Works a sheet out. */
  public static LengthBudget of(FieldSheet sheet) {
    return sheet
        .readings()
        .fold(
            counted -> WheelBudget.of(counted, sheet),
            taped -> TapeBudget.of(taped, sheet),
            certified -> CertifiedBudget.of(certified, sheet));
  }

  /** The reference: the length with its safety factor, if it carries one. */
  public double referenceM() {
    return lengthM * safetyFactor.orElse(1);
  }

  /** U at 95 %. */
  public double expandedUncertaintyM() {
    return coverageFactor * standardUncertaintyM;
  }

  /** The share of a term in the combined variance, 0 to 1. */
  public double share(Term term) {
    double all = standardUncertaintyM * standardUncertaintyM;
    return all > 0 ? term.standardM() * term.standardM() / all : 0;
  }

  /** The largest contribution; empty where there is none. */
  public Optional<Term> largest() {
    return terms.stream().max(Comparator.comparingDouble(Term::standardM));
  }

  /**
   * The figure that a certificate of this length would state: 1.001 taken off. For comparison only.
   */
  public double certifiableM() {
    return referenceM() / FieldSheet.SAFETY_FACTOR;
  }

  /** What the instruments have in common: terms and warnings as they come together. */
  static final class Builder {
    /** Within a hand's width of the mark: common practice, no source. */
    private static final double MARKS_M = 0.05;

    /** How far to the side of a measured line feet keep on average: common practice, no source. */
    private static final double PATH_OFFSET_M = 0.15;

    private final List<Term> terms = new ArrayList<>();
    private final List<Warning> warnings = new ArrayList<>();

    void add(Term term) {
      terms.add(term);
    }

    void warn(Warning.Kind kind, String detail, Object... numbers) {
      warnings.add(new Warning(kind, String.format(Locale.ROOT, detail, numbers)));
    }

    /** The budget, with the marks, the path and what else the sheet names. */
    LengthBudget of(
        double lengthM,
        OptionalDouble factor,
        FieldSheet sheet,
        Optional<Calibration> calibration) {
      marks(sheet);
      path(sheet.path());
      for (FieldSheet.Other o : sheet.others())
        add(new Term(Source.OTHER, o.name(), o.standardM(), Double.POSITIVE_INFINITY, false));
      UncertaintySum sum = UncertaintySum.NONE;
      for (Term t : terms) sum = sum.plus(t.standardM() * t.standardM(), t.degreesOfFreedom());
      return new LengthBudget(
          lengthM,
          factor,
          terms,
          sum.standardUncertainty(),
          sum.degreesOfFreedom(),
          Distributions.tFactor(LEVEL, sum.degreesOfFreedom()),
          calibration,
          warnings);
    }

    private void marks(FieldSheet sheet) {
      // Two marks, independent: the half widths of the two add up in squares.
      double half = sheet.marksM().orElse(MARKS_M) * Math.sqrt(2);
      add(Term.within(Source.MARKS, half, sheet.marksM().isEmpty()));
    }

    /** A path beside the line is longer by 2 pi times the offset per net turn. */
    private void path(FieldSheet.Path path) {
      boolean assumed = path.offsetM().isEmpty() || path.netTurns().isEmpty();
      double offset = path.offsetM().orElse(PATH_OFFSET_M);
      double turns = path.netTurns().orElse(1);
      add(Term.within(Source.PATH, 2 * Math.PI * Math.abs(turns) * offset, assumed));
      if (assumed)
        warn(
            Warning.Kind.PATH_NOT_SAID,
            "%.2f m to the side and %.1f turns are taken",
            offset,
            turns);
    }
  }
}
