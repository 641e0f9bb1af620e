package milewarden.report;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.accuracy.settings.Departure;

/** Sentences about settings that were other than stated. */
public final class SettingsWords {
  private SettingsWords() {}

  // As the intake puts a settings profile together: parts of these names, parted by commas.
  private static final Pattern PART =
      Pattern.compile("(?:^|, )(interval|band|start) (.*?)(?=, (?:interval|band|start) |$)");
  private static final Pattern NUMBER = Pattern.compile("\\d+(\\.\\d+)?");

  /** A settings profile, whose parts bear the names of the sheet's columns, in words. */
  public static String profile(String settings) {
    List<String> words = new ArrayList<>();
    Matcher parts = PART.matcher(settings);
    while (parts.find()) words.add(part(parts.group(1), parts.group(2)));
    return words.isEmpty() ? settings : String.join(", ", words);
  }

  private static String part(String name, String value) {
    return switch (name) {
      case "interval" ->
          NUMBER.matcher(value).matches()
              ? "a fix every " + (value.equals("1") ? "second" : value + " s")
              : "recording " + value;
      case "band" -> value.contains("band") ? value : "band " + value;
      default -> "start: " + value;
    };
  }

  /** Why a recording waits, and what can be answered. */
  public static String question(List<Departure> departures) {
    return "Its settings were not as stated: "
        + found(departures)
        + ". Say whether it is so (it then counts in a condition of its own), whether the settings"
        + " were as stated, or whether they were wrong (it is then left out, with that reason).";
  }

  /** What was found, without an end to the sentence. */
  public static String found(List<Departure> departures) {
    return Words.list(departures.stream().map(SettingsWords::of).toList());
  }

  private static String of(Departure departure) {
    String number = plain(departure.value());
    return switch (departure.kind()) {
      case LONG_INTERVAL -> "a fix only every " + number + " s";
      case UNEVEN_INTERVAL -> "fixes at uneven intervals of up to " + number + " s and more";
      case AUTO_PAUSE ->
          "recording stopped "
              + (departure.value() == 1 ? "once" : number + " times")
              + " while standing, as by auto-pause";
      case SNAPPED -> "positions that keep to a line, as if snapped to a map";
      case COARSE -> "positions too coarse for a length, as a coarse export writes them";
    };
  }

  /** An answer, as it is chosen: its code as the field sheet writes it. */
  public static String of(String answer) {
    return switch (answer) {
      case "as-found" -> "it is so: count it in a condition of its own";
      case "as-stated" -> "the settings were as stated: count it there";
      case "wrong" -> "the settings were wrong: leave it out";
      default -> answer;
    };
  }

  /** At most one decimal: seconds and counts. */
  private static String plain(double value) {
    return BigDecimal.valueOf(value)
        .setScale(1, RoundingMode.HALF_UP)
        .stripTrailingZeros()
        .toPlainString();
  }
}
