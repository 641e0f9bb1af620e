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
import milewarden.verdict.PassEvidence.Exclusion;

/**
 * The settled tags of a recording, understood.
 *
 * @param model of the unit, should it be new
 * @param settings the settings profile as one text; may be empty
 * @param shown one reading per pass in order; may be empty
 * @param excluded the reason by pass; pass 0 is the whole recording
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
    Map<Integer, Exclusion.Reason> excluded) {
  public RunTags {
    shown = List.copyOf(shown);
    excluded = Map.copyOf(excluded);
  }
}
