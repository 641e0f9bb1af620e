package milewarden.units;

import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** A distance in metres; may be negative when it is a difference. */
public record Length(double metres) {
  // A comma is a point, but where three digits follow it: it could part thousands then.
  private static final Pattern TEXT =
      Pattern.compile("\\s*([+-]?\\d+(?:\\.\\d+|,(?!\\d{3}(?!\\d))\\d+)?)\\s*([A-Za-z]+)\\s*");

  public Length {
    if (!Double.isFinite(metres)) throw new IllegalArgumentException("metres: " + metres);
  }

  /** {@code value} units of {@code unit}. */
  public static Length of(double value, LengthUnit unit) {
    return new Length(value * unit.metres());
  }

  /** Reads a number with its unit, {@code 0.25 mi}; empty where the text is anything else. */
  public static Optional<Length> parse(String text) {
    Matcher m = TEXT.matcher(text);
    if (!m.matches()) return Optional.empty();
    double value = Double.parseDouble(m.group(1).replace(',', '.'));
    return LengthUnit.of(m.group(2)).map(u -> of(value, u)).filter(l -> Double.isFinite(l.metres));
  }

  /** This length counted in {@code unit}. */
  public double in(LengthUnit unit) {
    return metres / unit.metres();
  }
}
