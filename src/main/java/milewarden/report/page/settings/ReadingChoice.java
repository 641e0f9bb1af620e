package milewarden.report.page.settings;

import java.util.List;
import milewarden.report.Digits;
import milewarden.report.page.Option;

/**
 * In which units, numerals and dates the pages are read, and what else there is.
 *
 * @param sample how figures look now
 */
public record ReadingChoice(List<Option> units, List<Option> locales, String sample) {
  // A course of two miles and a stretch of a marathon, to see both kinds of lengths.
  private static final double SAMPLE_M = 3218.7;

  public ReadingChoice {
    units = List.copyOf(units);
    locales = List.copyOf(locales);
  }

  /** A choice; {@code chosen} now. */
  public record Option(String code, String words, boolean chosen) {}

  /** How figures look to a reader of these digits. */
  public static String sample(Digits digits) {
    return digits.ground(SAMPLE_M)
        + ", "
        + digits.distance(SAMPLE_M)
        + ", "
        + digits.pace(0.3)
        + ", "
        + digits.percentWithin(1.84, 0.42)
        + ", "
        + digits.date(java.time.LocalDate.of(2026, 5, 12));
  }
}
