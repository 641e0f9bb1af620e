package milewarden.accuracy;

import java.util.List;
import java.util.OptionalDouble;

/**
 * How the recording was made, and every repair that the engine made to measure it.
 *
 * @param medianIntervalS of fixes with times within segments; empty without times
 * @param p95IntervalS type 7
 * @param gaps steps longer than 3 median intervals, and breaks between segments
 * @param gapShare share of the track's length that lies in gaps, 0 to 1
 * @param repeatedPositions fixes at exactly the position of the one before
 * @param duplicateTimes fixes with the time of the one before
 * @param backwardTimes fixes with an earlier time than one before
 * @param spikes fixes that jump out and back; they stay in every distance
 * @param positionStepDeg the grid on which the positions lie, where it is 1e-6 degrees or coarser
 */
public record RecordingQuality(
    OptionalDouble medianIntervalS,
    OptionalDouble p95IntervalS,
    int gaps,
    double gapShare,
    int repeatedPositions,
    int duplicateTimes,
    int backwardTimes,
    int spikes,
    OptionalDouble positionStepDeg,
    List<Repair> repairs) {
  public RecordingQuality {
    repairs = List.copyOf(repairs);
  }

  /** One kind of repair: its code ({@code duplicate-time}) and how often. */
  public record Repair(String kind, int count) {}
}
