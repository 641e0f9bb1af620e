package milewarden.verdict.replay;

import java.util.List;

/**
 * How often a comparison of this installation fires when nothing changed.
 *
 * @param periods one per release that has sessions enough
 */
public record AaRate(List<AaReplay.Period> periods) {
  public AaRate {
    periods = List.copyOf(periods);
  }

  public int splits() {
    return periods.stream().mapToInt(AaReplay.Period::splits).sum();
  }

  public int fired() {
    return periods.stream().mapToInt(AaReplay.Period::fired).sum();
  }

  /** The measured share of false alarms; 0 where nothing was split. */
  public double measured() {
    return splits() == 0 ? 0 : (double) fired() / splits();
  }

  /** The share that the looks' alphas add up to, weighted as the splits are. */
  public double promised() {
    double sum = 0;
    for (AaReplay.Period p : periods) sum += p.promised() * p.splits();
    return splits() == 0 ? 0 : sum / splits();
  }

  /**
   * Standard error of the measured share if it were the promised one: the splits are random, so it
   * misses by about so much however right the judge is.
   */
  public double monteCarloError() {
    double p = promised();
    return splits() == 0 ? 0 : Math.sqrt(p * (1 - p) / splits());
  }

  /** True where it fires no more often than promised, within twice the Monte Carlo error. */
  public boolean holds() {
    return measured() <= promised() + 2 * monteCarloError();
  }
}
