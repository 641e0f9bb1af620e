package milewarden.benchmark;

import java.util.Optional;
import java.util.OptionalInt;
import milewarden.accuracy.ShownDistance;
import milewarden.course.ReferenceCourse;
import milewarden.device.Reading;
import milewarden.geodesy.LocalMetric;
import milewarden.matching.CourseMatcher;
import milewarden.matching.Match;
import milewarden.matching.PassEnd;
import milewarden.matching.PassFinder;
import milewarden.matching.PassSpan;
import milewarden.matching.Timeline;
import milewarden.track.Track;

/**
 * What ours does without what only ours does: every step's length, every fix's place along the
 * course by progress, the passes, and of each its three distances. No ladder, no noise, no
 * fingerprint, no finding.
 */
final class SameJob {
  private final Track track;
  private final double[] stepM;

  private SameJob(Track track) {
    this.track = track;
    double[] lat = track.latitudesDeg();
    double[] lon = track.longitudesDeg();
    stepM = new double[track.size()];
    for (int i = 1; i < stepM.length; i++)
      stepM[i] = LocalMetric.lengthM(lat[i - 1], lon[i - 1], lat[i], lon[i]);
  }

  /** The errors of all passes and distances in percent, summed: a number that depends on each. */
  static double of(Track track, ReferenceCourse course, Reading shown) {
    SameJob job = new SameJob(track);
    Match match = CourseMatcher.of(course).match(track, Timeline.of(track), Optional.empty());
    double sum = 0;
    for (PassSpan pass : PassFinder.find(match, Optional.empty(), OptionalInt.empty()).spans()) {
      double referenceM = course.referenceM() * pass.laps();
      double recordedM = job.recordedM(pass.to()) - job.recordedM(pass.from());
      sum += 100 * (job.trackM(pass) * course.groundFactor() / referenceM - 1);
      if (!Double.isNaN(recordedM)) sum += 100 * (recordedM / referenceM - 1);
      sum += ShownDistance.of(shown).errorPercent(referenceM).low();
    }
    return sum;
  }

  private double trackM(PassSpan pass) {
    double sum = 0;
    for (int i = pass.from().fix() + 1; i <= pass.to().fix(); i++) sum += stepM[i];
    return sum + part(pass.to()) - part(pass.from());
  }

  private double part(PassEnd end) {
    return end.fraction() > 0 ? end.fraction() * stepM[end.fix() + 1] : 0;
  }

  private double recordedM(PassEnd end) {
    double[] all = track.distancesM();
    if (all.length == 0) return Double.NaN;
    double at = all[end.fix()];
    return end.fraction() > 0 ? at + end.fraction() * (all[end.fix() + 1] - at) : at;
  }
}
