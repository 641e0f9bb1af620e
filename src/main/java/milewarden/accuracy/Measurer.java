package milewarden.accuracy;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.accuracy.TrackMeasurement.Finding.Code;
import milewarden.accuracy.noise.Offsets;
import milewarden.course.Bounds;
import milewarden.course.ReferenceCourse;
import milewarden.device.Reading;
import milewarden.matching.CourseMatcher;
import milewarden.matching.Match;
import milewarden.matching.PassFinder;
import milewarden.matching.PassSpan;
import milewarden.matching.Passes;
import milewarden.matching.Timeline;
import milewarden.track.Track;

/** Measures a recording against a course: one call, one answer, no clock and no file. */
public final class Measurer {
  // A track with the line in reach for less than this of its places is on another course.
  private static final double ON_COURSE_SHARE = 0.3;

  private Measurer() {}

  /** The recording's passes, each measured, and what a reader must know about them. */
  public static TrackMeasurement measure(
      Track track, ReferenceCourse course, MeasureOptions options) {
    Timeline timeline = Timeline.of(track);
    Recording recording = new Recording(track, timeline, options.gait());
    CourseMatcher matcher = CourseMatcher.of(course);
    Match match = matcher.match(track, timeline, options.direction());
    Passes passes = PassFinder.find(match, options.bounds(), options.laps());
    PassMeasurer measurer = new PassMeasurer(recording, course, matcher, match);
    Findings findings = new Findings();
    boolean none = passes.spans().isEmpty();
    double distanceM = none ? matcher.medianDistanceM(track) : 0;
    findings.ofPasses(passes, course, match.nearShare() >= ON_COURSE_SHARE, distanceM);
    findings.ofCourse(measurer.k());
    if (!timeline.timed()) findings.add(Code.NO_TIMES, "", "");
    Optional<Reading> total = oneForAll(passes, course, options.shown());
    List<PassMeasurement> measured =
        total.isPresent()
            ? List.of(joined(passes, measurer, findings, course, recording, total.get()))
            : measured(passes, measurer, findings, course, options.shown());
    return new TrackMeasurement(
        recording.lengthM(),
        recording.recorded.totalM(),
        recording.quality(),
        measured,
        findings.all());
  }

  /** One number read behind several ways over an open course from mark to mark: their total. */
  private static Optional<Reading> oneForAll(
      Passes passes, ReferenceCourse course, List<Reading> shown) {
    boolean ways =
        passes.spans().size() > 1
            && passes.spans().stream().allMatch(s -> s.bounds() == Bounds.MARKS);
    return ways && !course.closed() && shown.size() == 1
        ? Optional.of(shown.get(0))
        : Optional.empty();
  }

  private static PassMeasurement joined(
      Passes passes,
      PassMeasurer measurer,
      Findings findings,
      ReferenceCourse course,
      Recording recording,
      Reading total) {
    List<PassMeasurer.Measured> parts = new ArrayList<>();
    for (PassSpan span : passes.spans()) parts.add(measurer.measure(1, span, Optional.empty()));
    ShownDistance shown = ShownDistance.of(total);
    PassMeasurement whole =
        new Joined(parts.stream().map(PassMeasurer.Measured::pass).toList())
            .with(
                shown,
                Offsets.of(parts.stream().map(PassMeasurer.Measured::offsets).toList()),
                recording.timeline.medianIntervalS(),
                recording.recorded.betweenM(
                    passes.spans().get(0).from(),
                    passes.spans().get(parts.size() - 1).to(),
                    recording.track.size()));
    findings.ofPass(
        new PassMeasurer.Measured(
            whole,
            parts.get(0).offsets(),
            parts.stream().mapToInt(PassMeasurer.Measured::breaks).sum(),
            parts.stream().mapToDouble(PassMeasurer.Measured::lostM).sum(),
            parts.stream().mapToDouble(PassMeasurer.Measured::junkShare).max().orElse(0)),
        course,
        List.of(shown));
    return whole;
  }

  private static List<PassMeasurement> measured(
      Passes passes,
      PassMeasurer measurer,
      Findings findings,
      ReferenceCourse course,
      List<Reading> shown) {
    int n = passes.spans().size();
    boolean each = shown.size() == n;
    if (!each && !shown.isEmpty())
      findings.add(Code.SHOWN_COUNT_MISMATCH, "", "%d shown, %d passes", shown.size(), n);
    List<PassMeasurement> out = new ArrayList<>();
    for (int i = 0; i < n; i++) {
      Optional<Reading> reading = each ? Optional.of(shown.get(i)) : Optional.empty();
      PassMeasurer.Measured m = measurer.measure(i + 1, passes.spans().get(i), reading);
      findings.ofPass(m, course, reading.map(ShownDistance::of).stream().toList());
      out.add(m.pass());
    }
    return out;
  }
}
