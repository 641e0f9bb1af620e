package milewarden.report;

import java.util.Optional;
import milewarden.verdict.Comparison;
import milewarden.verdict.Comparison.Because;
import milewarden.verdict.Comparison.Spread;

/**
 * A release that scatters more or less, and of whose mean error nothing is said: its words lead
 * with the spread between sessions.
 */
public final class SpreadWords {
  private SpreadWords() {}

  /** True where the spread, and not the mean, was found to have changed. */
  public static boolean isWhy(Because because) {
    return because == Because.SPREAD_GREW || because == Because.SPREAD_SHRANK;
  }

  /** {@code scatters more than}. */
  public static String verb(Because because) {
    return because == Because.SPREAD_GREW ? "scatters more than" : "scatters less than";
  }

  /** Both standard deviations: {@code spread 0.9 % after 0.4 %}. */
  public static String of(Spread s, Digits digits) {
    return "spread "
        + digits.number(s.candidateSdPercent(), 2)
        + "\u00a0% after "
        + digits.number(s.baselineSdPercent(), 2)
        + "\u00a0%";
  }

  /** The same where the spread is why the comparison says what it says; empty elsewhere. */
  public static Optional<String> of(Comparison c, Digits digits) {
    return isWhy(c.because()) ? c.spread().map(s -> of(s, digits)) : Optional.empty();
  }

  /** How many times as large: {@code ×2.3}; empty where the spread is not why. */
  public static Optional<String> times(Comparison c, Digits digits) {
    if (!isWhy(c.because())) return Optional.empty();
    return c.spread()
        .filter(s -> s.ratio().isPresent())
        .map(s -> "\u00d7" + digits.number(s.ratio().getAsDouble(), 1));
  }
}
