package milewarden.cli;

import java.math.BigDecimal;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.device.Reading;
import milewarden.device.Rounding;
import milewarden.units.LengthUnit;

/** What a display said, as it is typed: {@code 0.27 mi}. */
final class ShownText {
  private static final Pattern TEXT =
      Pattern.compile("\\s*(\\d{1,9}(?:\\.\\d{1,9})?)\\s*([A-Za-z]+)\\s*");

  private ShownText() {}

  /**
   * The reading; empty where it cannot be understood.
   *
   * @param step the display's step in its unit; where empty, one of the last digit typed
   */
  static Optional<Reading> reading(String text, Optional<String> step, Rounding rounding) {
    Matcher m = TEXT.matcher(text);
    if (!m.matches()) return Optional.empty();
    Optional<LengthUnit> unit = LengthUnit.of(m.group(2));
    BigDecimal value = new BigDecimal(m.group(1));
    Optional<BigDecimal> size =
        step.isEmpty() ? Optional.of(value.ulp()) : ShownText.step(step.get());
    if (unit.isEmpty() || size.isEmpty()) return Optional.empty();
    return Optional.of(
        new Reading(value.doubleValue(), unit.get(), size.get().doubleValue(), rounding));
  }

  /** A step above 0; empty where it is none. */
  static Optional<BigDecimal> step(String text) {
    if (!text.matches("\\d{1,9}(\\.\\d{1,9})?")) return Optional.empty();
    return Optional.of(new BigDecimal(text)).filter(s -> s.signum() > 0);
  }
}
