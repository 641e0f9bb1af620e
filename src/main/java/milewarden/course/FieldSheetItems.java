package milewarden.course;

import java.util.List;

/** The items of a field sheet by their names in files and forms. */
public final class FieldSheetItems {
  /** Readings, of which there are several: rides, passes and other contributions. */
  public static final List<String> REPEATED = List.of("before", "pass", "after", "other");

  /** Items with one value, in the order in which they are written. */
  public static final List<String> SINGLE =
      List.of(
          "method",
          "measured_on",
          "measured_by",
          "about_m",
          "calibration_m",
          "calibration_uncertainty_m",
          "counter_digits",
          "count_step",
          "tape_nominal_m",
          "tape_certified_m",
          "tape_uncertainty_m",
          "certificate_temperature_c",
          "laying_uncertainty_m",
          "expansion_ppm",
          "certified_m",
          "safety_factor",
          "marks_m",
          "path_offset_m",
          "net_turns");

  private FieldSheetItems() {}
}
