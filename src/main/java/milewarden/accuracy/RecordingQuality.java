package milewarden.accuracy;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import milewarden.track.Drops;
import milewarden.track.Issue;

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

  /** With what was left out while the file was read among the repairs. */
  public RecordingQuality withDrops(Drops drops) {
    List<Repair> all = new ArrayList<>();
    for (Issue.Kind kind : Issue.Kind.values())
      // Up to here a point or one of its values was left out; what follows was kept as it is.
      if (kind.compareTo(Issue.Kind.VALUE_UNREADABLE) <= 0 && drops.count(kind) > 0)
        all.add(
            new Repair(kind.name().toLowerCase(Locale.ROOT).replace('_', '-'), drops.count(kind)));
    all.addAll(repairs);
    return new RecordingQuality(
        medianIntervalS,
        p95IntervalS,
        gaps,
        gapShare,
        repeatedPositions,
        duplicateTimes,
        backwardTimes,
        spikes,
        positionStepDeg,
        all);
  }

  /** One kind of repair: its code ({@code duplicate-time}) and how often. */
  public record Repair(String kind, int count) {}
}
