package milewarden.accuracy;

import java.util.List;
import java.util.OptionalDouble;

/** How the recording was made, and every repair that the engine made to measure it. */
public record RecordingQuality(
    OptionalDouble medianIntervalS,
    OptionalDouble p95IntervalS,
    int gaps,
    double gapShare,
    int repeatedPositions,
    OptionalDouble positionStepDeg,
    List<Repair> repairs) {
  public RecordingQuality {
    repairs = List.copyOf(repairs);
  }

  /** One kind of repair: its code ({@code duplicate-time}) and how often. */
  public record Repair(String kind, int count) {}
}
