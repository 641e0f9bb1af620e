package milewarden.track;

import java.util.Locale;
import java.util.Optional;

/** What can be said about how a track was recorded: the columns of the field sheet. */
public enum TagName {
  SESSION,
  DATE,
  TIME,
  PASS,
  SLOT,
  UNIT,
  MODEL,
  FIRMWARE,
  COURSE,
  CARRIAGE,
  GAIT,
  DIRECTION,
  LAPS,
  SHOWN,
  SHOWN_UNIT,
  SHOWN_STEP,
  ROUNDING,
  BOUNDS,
  INTERVAL,
  BAND,
  START_PROTOCOL,
  STANDING_S,
  FIX_WAIT_S,
  BATTERY,
  WEATHER,
  CONTROL,
  ROLE,
  OPERATOR,
  SETTINGS_CHECK,
  CLOCK,
  COLUMNS,
  EXCLUDED_REASON,
  NOTES;

  /** The name in files: {@code shown_step}. */
  public String code() {
    return name().toLowerCase(Locale.ROOT);
  }

  public static Optional<TagName> of(String text) {
    String wanted = text.strip().toUpperCase(Locale.ROOT).replace('-', '_').replace(' ', '_');
    for (TagName name : values()) if (name.name().equals(wanted)) return Optional.of(name);
    return Optional.empty();
  }
}
