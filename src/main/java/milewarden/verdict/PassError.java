package milewarden.verdict;

import java.util.Collection;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.units.PercentRange;

/**
 * An error of one pass, or a mean of such, in percent.
 *
 * @param asRead the error; of a shown distance as read
 * @param low and {@code high}: where the shown distance may lie; both equal the error elsewhere
 */
public record PassError(double asRead, double low, double high) {
  /** Empty where the pass lacks the source. */
  public static Optional<PassError> of(PassEvidence p, Source source) {
    return switch (source) {
      case SHOWN -> {
        if (p.errors().shownAsReadPercent().isEmpty()) yield Optional.empty();
        double e = p.errors().shownAsReadPercent().getAsDouble();
        PercentRange r = p.errors().shownPercent().orElse(PercentRange.exactly(e));
        yield Optional.of(new PassError(e, r.low(), r.high()));
      }
      case RECORDED -> exactly(p.errors().recordedPercent());
      case TRACK -> exactly(p.errors().trackPercent());
    };
  }

  /** True where the pass carries the source. */
  public static boolean has(PassEvidence p, Source source) {
    return switch (source) {
      case SHOWN -> p.errors().shownAsReadPercent().isPresent();
      case RECORDED -> p.errors().recordedPercent().isPresent();
      case TRACK -> p.errors().trackPercent().isPresent();
    };
  }

  private static Optional<PassError> exactly(OptionalDouble e) {
    return e.isEmpty()
        ? Optional.empty()
        : Optional.of(new PassError(e.getAsDouble(), e.getAsDouble(), e.getAsDouble()));
  }

  /** Of one or more. */
  public static PassError mean(Collection<PassError> of) {
    double e = 0;
    double l = 0;
    double h = 0;
    for (PassError p : of) {
      e += p.asRead;
      l += p.low;
      h += p.high;
    }
    int n = of.size();
    return new PassError(e / n, l / n, h / n);
  }

  /** From the lower to the higher. */
  public PercentRange range() {
    // The two sums may round past each other by a last digit where all ranges are points.
    return new PercentRange(Math.min(low, high), Math.max(low, high));
  }
}
