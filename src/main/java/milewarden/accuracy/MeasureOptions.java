package milewarden.accuracy;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import milewarden.course.Bounds;
import milewarden.course.Direction;
import milewarden.device.Gait;
import milewarden.device.Reading;

/**
 * What the tester said about a recording; what is empty is inferred from the track.
 *
 * @param bounds by marks or by gates
 * @param laps of a closed course between start and stop; above 0; used with marks
 * @param direction of travel, a hint to the matcher: a track that clearly went the other way wins
 * @param shown what stood on the display, one reading per pass in order of time; or one alone, read
 *     behind several ways over an open course from mark to mark, as their total; may be empty
 * @param gait on foot a spike is a step beyond 12 m/s, on wheels beyond 25 m/s
 */
public record MeasureOptions(
    Optional<Bounds> bounds,
    OptionalInt laps,
    Optional<Direction> direction,
    List<Reading> shown,
    Gait gait) {
  /** Nothing said: everything from the track, on foot. */
  public static final MeasureOptions NONE =
      new MeasureOptions(
          Optional.empty(), OptionalInt.empty(), Optional.empty(), List.of(), Gait.WALK);

  public MeasureOptions {
    shown = List.copyOf(shown);
    if (laps.isPresent() && laps.getAsInt() < 1)
      throw new IllegalArgumentException("laps: " + laps.getAsInt());
  }

  public MeasureOptions withBounds(Bounds bounds) {
    return new MeasureOptions(Optional.of(bounds), laps, direction, shown, gait);
  }

  public MeasureOptions withShown(Reading... readings) {
    return new MeasureOptions(bounds, laps, direction, List.of(readings), gait);
  }
}
