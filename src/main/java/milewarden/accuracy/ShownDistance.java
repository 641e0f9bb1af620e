package milewarden.accuracy;

import milewarden.device.Reading;
import milewarden.units.LengthRange;
import milewarden.units.PercentRange;

/** What a reading of a display says about the distance behind it. */
public record ShownDistance(Reading reading) {
  public static ShownDistance of(Reading reading) {
    return new ShownDistance(reading);
  }

  /** The number on the display, in metres. */
  public double asReadM() {
    return reading.value() * reading.unit().metres();
  }

  /** The display's step, in metres. */
  public double stepM() {
    return reading.step() * reading.unit().metres();
  }

  /**
   * Where the distance behind the display lies: with step q, rounded d - q/2 to d + q/2, truncated
   * d to d + q, rule unknown d - q/2 to d + q. Never below 0. The upper end itself is excluded,
   * which no number of a device can tell.
   */
  public LengthRange range() {
    double d = asReadM();
    double q = stepM();
    return switch (reading.rounding()) {
      case ROUNDED -> new LengthRange(Math.max(0, d - q / 2), d + q / 2);
      case TRUNCATED -> new LengthRange(d, d + q);
      case UNKNOWN -> new LengthRange(Math.max(0, d - q / 2), d + q);
    };
  }

  /** Signed error of the number as read, in percent of {@code referenceM}. */
  public double asReadPercent(double referenceM) {
    return 100 * (asReadM() - referenceM) / referenceM;
  }

  /** Where the signed error lies, in percent of {@code referenceM}. */
  public PercentRange errorPercent(double referenceM) {
    LengthRange range = range();
    return new PercentRange(
        100 * (range.lowM() - referenceM) / referenceM,
        100 * (range.highM() - referenceM) / referenceM);
  }

  /** The display's step in percent of {@code referenceM}: it can't resolve better. */
  public double stepPercent(double referenceM) {
    return 100 * stepM() / referenceM;
  }
}
