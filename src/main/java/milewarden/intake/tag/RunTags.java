package milewarden.intake.tag;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import milewarden.course.Bounds;
import milewarden.course.Direction;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.device.Reading;

/**
 * The settled tags of a recording, understood.
 *
 * @param model of the unit, should it be new
 * @param settings the settings profile as one text; may be empty
 * @param shown one reading per pass in order; may be empty
 * @param excluded by pass; pass 0 is the whole recording
 * @param answer to a recording whose settings were other than stated
 */
public record RunTags(
    String unit,
    String model,
    String firmware,
    String course,
    Carriage carriage,
    Gait gait,
    Optional<Direction> direction,
    OptionalInt laps,
    Optional<Bounds> bounds,
    List<Reading> shown,
    String settings,
    Optional<String> session,
    Optional<LocalDate> date,
    Optional<LocalTime> time,
    Optional<Boolean> control,
    Optional<String> operator,
    Optional<String> notes,
    Map<Integer, LeftOut> excluded,
    Optional<SettingsAnswer> answer) {
  public RunTags {
    shown = List.copyOf(shown);
    excluded = Map.copyOf(excluded);
  }

  public RunTags withSettings(String to) {
    return new RunTags(
        unit, model, firmware, course, carriage, gait, direction, laps, bounds, shown, to, session,
        date, time, control, operator, notes, excluded, answer);
  }

  public RunTags withExcluded(Map<Integer, LeftOut> to) {
    return new RunTags(
        unit, model, firmware, course, carriage, gait, direction, laps, bounds, shown, settings,
        session, date, time, control, operator, notes, to, answer);
  }
}
