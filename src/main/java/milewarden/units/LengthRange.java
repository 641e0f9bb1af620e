package milewarden.units;

/** Where a length lies: between low and high metres, both included. */
public record LengthRange(double lowM, double highM) {
  public LengthRange {
    if (!(lowM <= highM)) throw new IllegalArgumentException("range: " + lowM + " to " + highM);
  }
}
