package milewarden.intake.tag;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import milewarden.accuracy.settings.Departure;
import milewarden.accuracy.settings.StatedSettings;

/** A settings profile as one text: reads what it says, and writes what was found into it. */
public final class SettingsText {
  private static final Pattern NUMBER = Pattern.compile("(?<![\\d.])\\d+(?:[.,]\\d+)?");
  private static final Pattern AUTO_PAUSE = Pattern.compile("auto[ -]?pause(?! off)");
  private static final Pattern NO_AUTO_PAUSE = Pattern.compile("(no|without) auto[ -]?pause");

  private SettingsText() {}

  /**
   * What a profile states; what it does not name is as usual.
   *
   * @param interval what the tag of that name says: {@code 5 s recording}
   * @param profile the whole text
   */
  public static StatedSettings stated(String interval, String profile) {
    String all = profile.toLowerCase(Locale.ROOT);
    Matcher number = NUMBER.matcher(interval);
    double seconds = 0;
    if (number.find()) seconds = Double.parseDouble(number.group().replace(',', '.'));
    return new StatedSettings(
        seconds > 0 ? seconds : StatedSettings.USUAL.intervalS(),
        interval.toLowerCase(Locale.ROOT).contains("smart"),
        AUTO_PAUSE.matcher(all).find() && !NO_AUTO_PAUSE.matcher(all).find());
  }

  /** The profile with what was found beside it: another condition. */
  public static String withFound(String profile, List<Departure> found) {
    String more = found.stream().map(SettingsText::of).collect(Collectors.joining(", "));
    return (profile.isEmpty() ? "" : profile + ", ") + "found " + more;
  }

  private static String of(Departure departure) {
    return switch (departure.kind()) {
      case LONG_INTERVAL -> "a fix every " + plain(departure.value()) + " s";
      // How uneven it was differs from day to day, the setting does not.
      case UNEVEN_INTERVAL -> "uneven recording";
      case AUTO_PAUSE -> "auto-pause";
      case SNAPPED -> "positions snapped to a line";
      case COARSE -> "coarse positions";
    };
  }

  private static String plain(double seconds) {
    return BigDecimal.valueOf(seconds)
        .setScale(1, RoundingMode.HALF_EVEN)
        .stripTrailingZeros()
        .toPlainString();
  }
}
