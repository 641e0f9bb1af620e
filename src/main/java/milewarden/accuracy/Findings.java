package milewarden.accuracy;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import milewarden.accuracy.TrackMeasurement.Finding;
import milewarden.accuracy.TrackMeasurement.Finding.Code;
import milewarden.accuracy.noise.NoiseCheck;
import milewarden.course.Bounds;
import milewarden.course.ReferenceCourse;
import milewarden.matching.Passes;

/** Collects what a reader must know: a code, a place, and the numbers that belong to it. */
final class Findings {
  // DECISIONS section 3: the loosest purpose allows 2 % of mean error; a display must show a
  // quarter
  // of that (ENGINE section 5).
  private static final double COARSE_DISPLAY_SHARE = 0.02 / 4;
  private static final double LINE_WARNING = 0.001;
  private static final double MOST_JUNK = 0.05;
  private static final double SNAPPED_M = 0.05;
  private static final int FEWEST_SNAPPED = 30;
  private static final double NOISE_SHARE = 0.005;

  private final List<Finding> all = new ArrayList<>();

  List<Finding> all() {
    return all;
  }

  void add(Code code, String place, String format, Object... numbers) {
    all.add(new Finding(code, place, String.format(Locale.ROOT, format, numbers)));
  }

  void ofCourse(double k) {
    if (Math.abs(k - 1) > LINE_WARNING) add(Code.LINE_DISAGREES, "", "measured / drawn = %.5f", k);
  }

  void ofPasses(Passes passes, ReferenceCourse course, boolean near, double distanceM) {
    if (passes.spans().isEmpty()) {
      if (near) add(Code.NO_PASS, "", "%.0f %% of the course covered", 100 * passes.covered());
      else add(Code.NO_COURSE, "", "nearest: %s, %.0f m away", course.slug(), distanceM);
    } else if (passes.guessed()) {
      Bounds bounds = passes.spans().get(0).bounds();
      add(Code.BOUNDS_GUESSED, "", "%s", bounds.code());
    }
    for (Passes.Partial p : passes.partials())
      add(
          Code.PARTIAL_LAP,
          p.first() ? "before the first" : "after the last",
          "%.0f m",
          p.lengthM());
    if (passes.lapsSeen().isPresent())
      add(Code.LAPS_UNSURE, "", "the positions show %d", passes.lapsSeen().getAsInt());
    if (!passes.spans().isEmpty() && !passes.directionSure())
      add(Code.DIRECTION_UNSURE, "", "taken as %s", passes.spans().get(0).direction().code());
  }

  void ofPass(PassMeasurer.Measured measured, ReferenceCourse course, List<ShownDistance> shown) {
    PassMeasurement pass = measured.pass();
    String place = "pass " + pass.index();
    for (PassMeasurement.OffLine off : pass.offLine())
      add(
          Code.OFF_LINE,
          place,
          "%s to %s, %.0f to %.0f m from its start, up to %.0f m off",
          PassMeasurer.at(off.from()),
          PassMeasurer.at(off.to()),
          off.fromM(),
          off.toM(),
          off.largestOffsetM());
    if (measured.junkShare() > MOST_JUNK)
      add(Code.TOO_MUCH_JUNK, place, "%.0f %% of the fixes", 100 * measured.junkShare());
    if (measured.breaks() > 0)
      add(
          Code.PAUSED,
          place,
          "%d times, %.0f m of the course not recorded",
          measured.breaks(),
          measured.lostM());
    if (!pass.trackResolvable()) add(Code.COARSE_POSITIONS, place, "");
    if (pass.offset().robustSigmaM() < SNAPPED_M
        && pass.profile().offsetM().size() >= FEWEST_SNAPPED)
      add(Code.SNAPPED_TO_LINE, place, "offsets vary by %.2f m", pass.offset().robustSigmaM());
    noise(pass, place);
    for (ShownDistance s : shown) display(s, course, pass, place);
  }

  private void noise(PassMeasurement pass, String place) {
    NoiseCheck check = pass.noise();
    if (check.observedM().isEmpty() || check.plainNoise()) return;
    double observed = check.observedM().get(0);
    // Wander too small to matter needs no explanation.
    if (observed < NOISE_SHARE * pass.distances().horizontalReferenceM()) return;
    add(
        Code.NOT_PLAIN_NOISE,
        place,
        "%.1f m of wander, %.1f m by plain noise",
        observed,
        check.predictedM().get(0));
  }

  /** The source in the place of a display that can't decide; the order is that of the decisions. */
  private static String decides(PassMeasurement pass) {
    if (pass.distances().recordedM().isPresent()) return "the recorded distance decides";
    return pass.onCourse() && pass.trackResolvable()
        ? "the track decides"
        : "nothing finer was recorded";
  }

  private void display(
      ShownDistance shown, ReferenceCourse course, PassMeasurement pass, String place) {
    double r = pass.distances().referenceM();
    if (shown.stepM() <= COARSE_DISPLAY_SHARE * r) return;
    double needed = shown.stepM() / COARSE_DISPLAY_SHARE;
    add(
        Code.DISPLAY_TOO_COARSE,
        place,
        "a step is %.2f %% of it; %s; enough from %.0f m or %.0f %s",
        shown.stepPercent(r),
        decides(pass),
        needed,
        Math.ceil(needed / course.referenceM() - 1e-9),
        course.closed() ? "laps" : "ways over it in one reading");
  }
}
