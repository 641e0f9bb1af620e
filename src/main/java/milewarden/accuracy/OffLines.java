package milewarden.accuracy;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.matching.Timeline;

/** Stretches of a pass further from the line than the corridor for more than 10 s. */
final class OffLines {
  // ENGINE section 3.
  private static final double LEAST_CORRIDOR_M = 30;
  private static final double SIGMAS = 5;
  private static final double LONGER_THAN_S = 10;
  // Without times: as far as one walks in 10 s at 1.4 m/s.
  private static final double LONGER_THAN_M = 14;

  private final PassSeries pass;
  private final Timeline timeline;
  private final double corridorM;
  private final double k;

  OffLines(PassSeries pass, Timeline timeline, double corridorM, double k) {
    this.pass = pass;
    this.timeline = timeline;
    this.corridorM = corridorM;
    this.k = k;
  }

  /** The larger of 30 m and 5 robust sigma. */
  static double corridorM(double sigmaM) {
    return Math.max(LEAST_CORRIDOR_M, SIGMAS * sigmaM);
  }

  List<PassMeasurement.OffLine> found() {
    List<PassMeasurement.OffLine> out = new ArrayList<>();
    int from = -1;
    for (int j = 0; j <= pass.points; j++) {
      boolean off = j < pass.points && Math.abs(pass.offsetM[j]) > corridorM;
      if (off && from < 0) from = j;
      if (off || from < 0) continue;
      // Out from the first fix that is off until the first that is back.
      int to = Math.min(j, pass.points - 1);
      if (isLong(from, to)) out.add(stretch(from, to));
      from = -1;
    }
    return out;
  }

  private boolean isLong(int from, int to) {
    if (timeline.timed()) return pass.second[to] - pass.second[from] > LONGER_THAN_S;
    return Math.abs(pass.placeM[to] - pass.placeM[from]) > LONGER_THAN_M;
  }

  private PassMeasurement.OffLine stretch(int from, int to) {
    double largest = 0;
    for (int j = from; j <= to; j++) largest = Math.max(largest, Math.abs(pass.offsetM[j]));
    return new PassMeasurement.OffLine(
        instant(from),
        instant(to),
        k * (pass.alongM[from] - pass.alongM[0]),
        k * (pass.alongM[to] - pass.alongM[0]),
        largest);
  }

  private Optional<Instant> instant(int j) {
    return timeline.timed() ? Optional.of(timeline.instant(pass.second[j])) : Optional.empty();
  }
}
