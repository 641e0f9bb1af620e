package milewarden.format.measured;

import java.util.List;

/** What a blank sheet of each method asks for, with a word to each item. */
final class BlankSheet {
  private static final List<String> HEAD = List.of("method", "measured_on", "measured_by");
  private static final List<String> TAIL = List.of("marks_m", "path_offset_m", "net_turns");

  private BlankSheet() {}

  /** Items in order, those of several rows as often as they are wanted; empty for no method. */
  static List<String> items(String method) {
    return switch (method) {
      case "wheel", "calibrated-bicycle" ->
          joined(
              List.of(
                  "calibration_m",
                  "calibration_uncertainty_m",
                  "counter_digits",
                  "about_m",
                  "before",
                  "before",
                  "before",
                  "before",
                  "pass",
                  "pass",
                  "after",
                  "after",
                  "after",
                  "after"));
      case "steel-tape" ->
          joined(
              List.of(
                  "tape_nominal_m",
                  "tape_certified_m",
                  "tape_uncertainty_m",
                  "certificate_temperature_c",
                  "pass",
                  "pass"));
      case "certificate" -> joined(List.of("certified_m", "safety_factor"));
      default -> List.of();
    };
  }

  private static List<String> joined(List<String> middle) {
    List<String> all = new java.util.ArrayList<>(HEAD);
    all.addAll(middle);
    all.addAll(TAIL);
    return all;
  }

  static String value(String item, String method) {
    return switch (item) {
      case "method" -> method;
      case "certificate_temperature_c" -> "20";
      default -> "";
    };
  }

  static String note(String item) {
    return switch (item) {
      case "measured_on" -> "a date as 2026-05-12";
      case "calibration_m" -> "length of the calibration course; metres, or with its unit: 1000 ft";
      case "calibration_uncertainty_m" -> "its standard uncertainty";
      case "counter_digits" -> "digits of a counter that begins again at 0";
      case "about_m" -> "roughly the course's length; tells how often the counter began again";
      case "before" -> "ride over the calibration course before: start, end, temperature";
      case "after" -> "ride over it afterwards";
      case "pass" -> "one pass over the course; of a tape the raw length as value";
      case "tape_nominal_m" -> "length marked on the tape; metres, or with its unit: 100 ft";
      case "tape_certified_m" -> "its true length by the certificate";
      case "tape_uncertainty_m" -> "standard uncertainty of that";
      case "certificate_temperature_c" -> "temperature of the certificate";
      case "certified_m" -> "the figure of the certificate; metres, or with its unit: 5 km";
      case "safety_factor" -> "yes where the figure carries 1.001, else no";
      case "marks_m" -> "how near to each mark the instrument stood";
      case "path_offset_m" -> "how far to the side of the line feet keep: the largest term";
      case "net_turns" -> "1 for a loop; 0 for out and back or a figure of eight";
      default -> "";
    };
  }
}
