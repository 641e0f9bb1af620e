package milewarden.course;

import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Function;

/**
 * The raw readings of a measurement of a course: what was counted or taped, and what is known of
 * the instrument, the marks and the path. Nothing in it is computed; {@link LengthBudget} does
 * that.
 *
 * @param readings of the wheel, the bicycle or the tape, or the figure of a certificate
 * @param path how the path that runners take may differ from the line that was measured
 * @param marksM half width within which the instrument stood on each of the two marks
 * @param others further contributions that the tester knows of
 */
public record FieldSheet(
    Readings readings,
    Path path,
    OptionalDouble marksM,
    List<Other> others,
    Optional<LocalDate> measuredOn,
    String measuredBy) {
  /** The factor of certified road courses; World Athletics / AIMS, 4.3 of the reference values. */
  public static final double SAFETY_FACTOR = 1.001;

  public FieldSheet {
    others = List.copyOf(others);
    notNegative("marks", marksM);
  }

  /** The instrument and what it read. */
  public sealed interface Readings {
    <R> R fold(
        Function<Counted, R> counted, Function<Taped, R> taped, Function<Certified, R> certified);

    /** How the course file names it. */
    default Method method() {
      return fold(Counted::method, t -> Method.STEEL_TAPE, c -> Method.CALIBRATED_BICYCLE);
    }
  }

  /**
   * A wheel or a bicycle with a counter.
   *
   * @param method wheel or calibrated bicycle
   * @param calibrationM length of the calibration course, above 0
   * @param calibrationUncertaintyM its standard uncertainty
   * @param counterDigits whole digits after which the counter begins again at 0; empty where it
   *     never did
   * @param stepCounts smallest difference that can be read, above 0; 1 for whole counts
   * @param expansionPerDegree relative growth of the circumference per degree Celsius
   * @param aboutM roughly how long the course is, to tell how often the counter began again
   * @param before rides over the calibration course before the course was measured, one or more
   * @param after rides over it afterwards; may be empty
   * @param passes over the course, one traversal or lap each, one or more
   */
  public record Counted(
      Method method,
      double calibrationM,
      OptionalDouble calibrationUncertaintyM,
      OptionalInt counterDigits,
      double stepCounts,
      OptionalDouble expansionPerDegree,
      OptionalDouble aboutM,
      List<Count> before,
      List<Count> after,
      List<Count> passes)
      implements Readings {
    public Counted {
      before = List.copyOf(before);
      after = List.copyOf(after);
      passes = List.copyOf(passes);
      if (method != Method.WHEEL && method != Method.CALIBRATED_BICYCLE)
        throw new IllegalArgumentException("method: " + method);
      if (!(calibrationM > 0)) throw new IllegalArgumentException("calibration: " + calibrationM);
      if (!(stepCounts > 0)) throw new IllegalArgumentException("step: " + stepCounts);
      if (before.isEmpty() || passes.isEmpty())
        throw new IllegalArgumentException("one ride before and one pass at least");
      notNegative("calibration uncertainty", calibrationUncertaintyM);
      notNegative("expansion", expansionPerDegree);
    }

    /** Counts after which the counter begins again; infinite where it never does. */
    double modulus() {
      return counterDigits.isPresent()
          ? Math.pow(10, counterDigits.getAsInt())
          : Double.POSITIVE_INFINITY;
    }

    @Override
    public <R> R fold(Function<Counted, R> c, Function<Taped, R> t, Function<Certified, R> f) {
      return c.apply(this);
    }
  }

  /**
   * The counter at the start and at the end of a ride.
   *
   * @param turns how often the counter began again at 0 between them; empty where nobody noted it
   */
  public record Count(double start, double end, OptionalInt turns, OptionalDouble temperatureC) {
    public Count {
      if (!(start >= 0) || !(end >= 0))
        throw new IllegalArgumentException("counts: " + start + " to " + end);
      if (turns.isPresent() && turns.getAsInt() < 0)
        throw new IllegalArgumentException("turns: " + turns);
    }
  }

  /**
   * A steel tape laid down again and again.
   *
   * @param nominalM length that is marked on the tape
   * @param certifiedM its true length at the certificate's temperature and tension
   * @param certifiedUncertaintyM standard uncertainty of that
   * @param certificateC temperature of the certificate, degrees Celsius
   * @param expansionPerDegree relative growth per degree Celsius
   * @param perLengthM standard uncertainty of laying down one tape length: alignment, tension, sag
   * @param passes over the course, one or more
   */
  public record Taped(
      double nominalM,
      double certifiedM,
      OptionalDouble certifiedUncertaintyM,
      double certificateC,
      double expansionPerDegree,
      OptionalDouble perLengthM,
      List<Taping> passes)
      implements Readings {
    /** Of steel, per degree Celsius: 4.1 of the reference values, as course measurers use it. */
    public static final double STEEL = 11.6e-6;

    /** The usual reference temperature of tapes; the same. */
    public static final double REFERENCE_C = 20;

    public Taped {
      passes = List.copyOf(passes);
      if (!(nominalM > 0) || !(certifiedM > 0))
        throw new IllegalArgumentException("tape: " + nominalM + ", " + certifiedM);
      if (passes.isEmpty()) throw new IllegalArgumentException("one pass at least");
      notNegative("certificate uncertainty", certifiedUncertaintyM);
      notNegative("uncertainty per length", perLengthM);
    }

    @Override
    public <R> R fold(Function<Counted, R> c, Function<Taped, R> t, Function<Certified, R> f) {
      return t.apply(this);
    }
  }

  /** A length as it was read off the tape, uncorrected, and the tape's temperature. */
  public record Taping(double rawM, OptionalDouble temperatureC) {
    public Taping {
      if (!(rawM > 0)) throw new IllegalArgumentException("length: " + rawM);
    }
  }

  /**
   * The figure of a certificate, with no readings behind it.
   *
   * @param figureM what the certificate states
   * @param carriesFactor whether the course was laid out longer than that by {@link #SAFETY_FACTOR}
   */
  public record Certified(double figureM, boolean carriesFactor) implements Readings {
    public Certified {
      if (!(figureM > 0)) throw new IllegalArgumentException("figure: " + figureM);
    }

    @Override
    public <R> R fold(Function<Counted, R> c, Function<Taped, R> t, Function<Certified, R> f) {
      return f.apply(this);
    }
  }

  /**
   * The path walked or run against the line that was measured.
   *
   * @param offsetM half width of the mean distance to its side
   * @param netTurns how often the course turns round, left against right: 1 for a loop, 0 for an
   *     out-and-back or a figure of eight
   */
  public record Path(OptionalDouble offsetM, OptionalDouble netTurns) {
    public static final Path NOT_SAID = new Path(OptionalDouble.empty(), OptionalDouble.empty());

    public Path {
      notNegative("offset", offsetM);
    }
  }

  /** A contribution that the sheet does not ask for. */
  public record Other(String name, double standardM) {
    public Other {
      if (!(standardM >= 0)) throw new IllegalArgumentException("uncertainty: " + standardM);
    }
  }

  private static void notNegative(String what, OptionalDouble value) {
    if (value.isPresent() && !(value.getAsDouble() >= 0))
      throw new IllegalArgumentException(
          String.format(Locale.ROOT, "%s: %s", what, value.getAsDouble()));
  }
}
