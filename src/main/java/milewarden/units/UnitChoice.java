package milewarden.units;

import java.util.Locale;
import java.util.Optional;

/** The units in which a reader likes lengths: chosen once, in the configuration. */
public enum UnitChoice {
  METRIC(LengthUnit.KILOMETRE, LengthUnit.METRE),
  IMPERIAL(LengthUnit.MILE, LengthUnit.FOOT);

  private final LengthUnit road;
  private final LengthUnit ground;

  UnitChoice(LengthUnit road, LengthUnit ground) {
    this.road = road;
    this.ground = ground;
  }

  /** The unit of distances that are run and of paces: kilometre or mile. */
  public LengthUnit road() {
    return road;
  }

  /** The unit of courses, offsets and steps of the ladder: metre or foot. */
  public LengthUnit ground() {
    return ground;
  }

  /** The name in files: {@code metric}. */
  public String code() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** The choice of this code, or named by its unit of the road ({@code km}, {@code miles}). */
  public static Optional<UnitChoice> of(String text) {
    return switch (text.strip().toLowerCase(Locale.ROOT)) {
      case "metric", "km", "kilometres", "kilometers" -> Optional.of(METRIC);
      case "imperial", "mi", "mile", "miles" -> Optional.of(IMPERIAL);
      default -> Optional.empty();
    };
  }
}
