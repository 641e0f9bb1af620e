package milewarden.accuracy;

import java.util.Arrays;
import java.util.Comparator;
import java.util.Locale;
import java.util.Optional;
import milewarden.units.LengthRange;

/** The steps of the ladder, in their order from the reference to the display. */
public enum LadderStep {
  SLOPE,
  ENDS,
  LINE,
  BACKTRACK,
  WEAVE,
  BEND,
  CHORD,
  SOURCE,
  INDICATION;

  /** The name in files: {@code weave}. */
  public String code() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** This step of a ladder in metres; empty where the ladder does not reach it. */
  public Optional<LengthRange> of(Ladder ladder) {
    return switch (this) {
      case SLOPE -> exactly(ladder.slopeM());
      case ENDS -> exactly(ladder.endsM());
      case LINE -> exactly(ladder.lineM());
      case BACKTRACK -> exactly(ladder.backtrackM());
      case WEAVE -> exactly(ladder.weaveM());
      case BEND -> exactly(ladder.bendM());
      case CHORD -> exactly(ladder.chordM());
      case SOURCE ->
          ladder.sourceM().isPresent() ? exactly(ladder.sourceM().getAsDouble()) : Optional.empty();
      case INDICATION -> ladder.indicationM();
    };
  }

  /**
   * The largest step either way, an interval counted by its middle; the earlier of equal ones.
   * Empty where every step is 0.
   */
  public static Optional<LadderStep> largest(Ladder ladder) {
    return Arrays.stream(values())
        .filter(step -> step.sizeIn(ladder) > 0)
        .max(
            Comparator.comparingDouble((LadderStep step) -> step.sizeIn(ladder))
                .thenComparing(Comparator.reverseOrder()));
  }

  private double sizeIn(Ladder ladder) {
    return of(ladder).map(r -> Math.abs((r.lowM() + r.highM()) / 2)).orElse(0.0);
  }

  private static Optional<LengthRange> exactly(double metres) {
    return Optional.of(new LengthRange(metres, metres));
  }
}
