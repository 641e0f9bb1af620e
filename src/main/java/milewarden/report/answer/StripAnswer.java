package milewarden.report.answer;

import java.util.List;
import java.util.OptionalDouble;
import milewarden.verdict.place.DifferenceStrip;

/**
 * Where along a course two releases differ, for programs: excess of the track per 10 m of chainage,
 * candidate minus baseline, metres per lap.
 *
 * @param sessions that have a track on this version of the course
 * @param totalM sum of the bins' differences
 * @param bins in order of chainage
 */
public record StripAnswer(
    String course,
    String courseVersion,
    double lengthM,
    ComparisonAnswer.Pair sessions,
    double totalM,
    List<Bin> bins) {
  public StripAnswer {
    bins = List.copyOf(bins);
  }

  /**
   * A stretch.
   *
   * @param low and {@code high}: 95 % for this place alone, from resampled sessions; empty below
   *     three sessions of either release
   */
  public record Bin(
      double fromM, double toM, double differenceM, OptionalDouble low, OptionalDouble high) {}

  public static StripAnswer of(DifferenceStrip s) {
    return new StripAnswer(
        s.course(),
        s.courseVersion(),
        s.lengthM(),
        new ComparisonAnswer.Pair(s.candidateSessions(), s.baselineSessions()),
        s.totalM(),
        s.bins().stream()
            .map(b -> new Bin(b.fromM(), b.toM(), b.differenceM(), b.low(), b.high()))
            .toList());
  }
}
