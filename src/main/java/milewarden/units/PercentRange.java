package milewarden.units;

/** Where a signed error lies, in percent of the reference: between low and high. */
public record PercentRange(double low, double high) {
  public PercentRange {
    if (!(low <= high)) throw new IllegalArgumentException("range: " + low + " to " + high);
  }

  /** A value known exactly. */
  public static PercentRange exactly(double value) {
    return new PercentRange(value, value);
  }

  public double middle() {
    return (low + high) / 2;
  }

  public boolean contains(double value) {
    return low <= value && value <= high;
  }
}
