package milewarden.store.run;

import java.util.List;
import milewarden.accuracy.TrackMeasurement;

/** A measurement with what of it takes long to write, made before the turn to write comes. */
public record WrittenMeasurement(TrackMeasurement measurement, List<PassRows.Written> passes) {
  public WrittenMeasurement {
    passes = List.copyOf(passes);
  }

  public static WrittenMeasurement of(TrackMeasurement found) {
    return new WrittenMeasurement(
        found, found.passes().stream().map(PassRows.Written::of).toList());
  }
}
