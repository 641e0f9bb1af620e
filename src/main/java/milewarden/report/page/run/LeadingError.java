package milewarden.report.page.run;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.accuracy.Errors;
import milewarden.accuracy.PassMeasurement;
import milewarden.accuracy.TrackMeasurement.Finding;
import milewarden.report.Digits;
import milewarden.units.PercentRange;

/**
 * The error that a run's page says first: of the distance shown; where the display is too coarse
 * for the pass or nothing was read off it, of the finest that there is.
 *
 * @param range empty where there is none at all
 * @param asRead of a distance shown
 */
record LeadingError(Optional<PercentRange> range, OptionalDouble asRead, String words) {

  static LeadingError of(PassMeasurement pass, List<Finding> findings) {
    Errors e = pass.errors();
    String place = "pass " + pass.index();
    boolean coarse =
        findings.stream()
            .anyMatch(f -> f.code() == Finding.Code.DISPLAY_TOO_COARSE && f.place().equals(place));
    if (!coarse || e.shownPercent().isEmpty()) return of(e);
    String why = "; one step of the display is too coarse to judge this pass by";
    if (e.recordedPercent().isPresent())
      return exactly(e.recordedPercent(), "error of the distance recorded" + why);
    if (e.trackPercent().isPresent() && pass.onCourse() && pass.trackResolvable())
      return exactly(e.trackPercent(), "error of the track's length" + why);
    return new LeadingError(
        e.shownPercent(),
        e.shownAsReadPercent(),
        "error of the distance shown, as read" + why + ", and nothing finer was recorded");
  }

  static LeadingError of(Errors e) {
    if (e.shownPercent().isPresent())
      return new LeadingError(
          e.shownPercent(), e.shownAsReadPercent(), "error of the distance shown, as read");
    return e.recordedPercent().isPresent()
        ? exactly(
            e.recordedPercent(), "error of the distance recorded; nothing was read off the display")
        : exactly(
            e.trackPercent(),
            "error of the track's length; nothing was read off the display or recorded");
  }

  private static LeadingError exactly(OptionalDouble percent, String words) {
    return new LeadingError(
        percent.isPresent()
            ? Optional.of(PercentRange.exactly(percent.getAsDouble()))
            : Optional.empty(),
        OptionalDouble.empty(),
        words);
  }

  String figure(Digits digits) {
    return asRead.isPresent()
        ? digits.percent(asRead.getAsDouble())
        : range.map(r -> digits.percent(r.middle(), 2)).orElse(Digits.UNKNOWN);
  }

  String sentence(double referenceM, Digits digits) {
    if (range.isEmpty()) return "Nothing of this run can be measured.";
    double low = range.get().low();
    double high = range.get().high();
    double metres = (low + high) / 200 * referenceM;
    if (low <= 0 && high >= 0 && high > low)
      return "The display's step covers its error: from " + digits.interval(low, high) + ".";
    String size = digits.ground(Math.abs(metres)) + " on " + digits.ground(referenceM);
    return metres > 0
        ? "It reads long by " + size + "."
        : metres < 0 ? "It reads short by " + size + "." : "It reads the reference.";
  }
}
