package milewarden.app;

import milewarden.app.config.Config;
import milewarden.report.Digits;
import milewarden.units.LengthUnit;
import milewarden.units.UnitChoice;

/** Digits as the configuration wants them. */
final class ReaderDigits {
  private ReaderDigits() {}

  static Digits of(Config config) {
    UnitChoice units = config.units() == LengthUnit.MILE ? UnitChoice.IMPERIAL : UnitChoice.METRIC;
    return Digits.of(units, config.locale(), config.zone());
  }
}
