package milewarden.units;

import java.util.Locale;
import java.util.Optional;

/** A unit of length with its exact size in metres. */
public enum LengthUnit {
  METRE("m", 1.0),
  KILOMETRE("km", 1000.0),
  // International yard and pound agreement of 1959; NIST SP 811, appendix B: exact.
  FOOT("ft", 0.3048),
  YARD("yd", 0.9144),
  MILE("mi", 1609.344),
  // First International Extraordinary Hydrographic Conference, Monaco (1929): exact.
  NAUTICAL_MILE("nmi", 1852.0);

  private final String symbol;
  private final double metres;

  LengthUnit(String symbol, double metres) {
    this.symbol = symbol;
    this.metres = metres;
  }

  /** The short name, as it is written behind a number: {@code km}. */
  public String symbol() {
    return symbol;
  }

  /** The size of one unit in metres. */
  public double metres() {
    return metres;
  }

  /** The unit of this symbol or English name, in any case. */
  public static Optional<LengthUnit> of(String text) {
    String t = text.strip().toLowerCase(Locale.ROOT);
    return switch (t) {
      case "m", "metre", "metres", "meter", "meters" -> Optional.of(METRE);
      case "km", "kilometre", "kilometres", "kilometer", "kilometers" -> Optional.of(KILOMETRE);
      case "ft", "foot", "feet" -> Optional.of(FOOT);
      case "yd", "yard", "yards" -> Optional.of(YARD);
      case "mi", "mile", "miles" -> Optional.of(MILE);
      case "nmi" -> Optional.of(NAUTICAL_MILE);
      default -> Optional.empty();
    };
  }
}
