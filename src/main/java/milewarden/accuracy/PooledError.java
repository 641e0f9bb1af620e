package milewarden.accuracy;

import java.util.List;
import java.util.Optional;
import milewarden.units.PercentRange;

/**
 * The error of several passes taken as one way: sum of distances less sum of references, over the
 * sum of references. For the readers of a session: decisions use means of pass errors.
 *
 * @param passes that have the distance, 1 or more
 * @param referenceM the sum of their references
 * @param percent signed; of shown distances from the sum of the lows to the sum of the highs
 */
public record PooledError(int passes, double referenceM, PercentRange percent) {
  /** Of the shown distances; a pass without one is left out, and empty where none has one. */
  public static Optional<PooledError> shown(List<Distances> passes) {
    Sums sums = new Sums();
    for (Distances d : passes)
      d.shownM().ifPresent(r -> sums.add(r.lowM(), r.highM(), d.referenceM()));
    return sums.error();
  }

  /** Of the devices' own distances. */
  public static Optional<PooledError> recorded(List<Distances> passes) {
    Sums sums = new Sums();
    for (Distances d : passes) d.recordedM().ifPresent(m -> sums.add(m, m, d.referenceM()));
    return sums.error();
  }

  /** Of the tracks, each against its horizontal reference. */
  public static Optional<PooledError> track(List<Distances> passes) {
    Sums sums = new Sums();
    for (Distances d : passes)
      if (Double.isFinite(d.trackM())) sums.add(d.trackM(), d.trackM(), d.horizontalReferenceM());
    return sums.error();
  }

  private static final class Sums {
    private int passes;
    private double lowM;
    private double highM;
    private double referenceM;

    void add(double low, double high, double reference) {
      passes++;
      lowM += low;
      highM += high;
      referenceM += reference;
    }

    Optional<PooledError> error() {
      if (passes == 0) return Optional.empty();
      double low = 100 * (lowM - referenceM) / referenceM;
      double high = 100 * (highM - referenceM) / referenceM;
      return Optional.of(new PooledError(passes, referenceM, new PercentRange(low, high)));
    }
  }
}
