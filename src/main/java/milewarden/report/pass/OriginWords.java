package milewarden.report.pass;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.verdict.place.DeviceDayCourse;
import milewarden.verdict.place.DeviceDayCourse.Finding;
import milewarden.verdict.place.DifferenceStrip;

/** Where along a course releases differ, and whether device, day or course did it, in sentences. */
public final class OriginWords {
  private OriginWords() {}

  /** What the strip shows. */
  public static String strip(DifferenceStrip strip, String candidate, Digits digits) {
    String total =
        "Along the course the track of "
            + candidate
            + " gains "
            + digits.change(strip.totalM())
            + " per lap on the baseline's";
    Optional<DifferenceStrip.Bin> most = strip.mostApart();
    if (strip.bins().stream().allMatch(b -> b.low().isEmpty()))
      return total + "; three sessions of either are needed to say where.";
    if (most.isEmpty()) return total + "; no stretch of it stands out.";
    return total
        + "; most apart is "
        + stretch(most.get().fromM(), most.get().toM(), digits)
        + ", with "
        + digits.change(most.get().differenceM())
        + ".";
  }

  /** Source, n and what the band is. */
  public static String caption(DifferenceStrip strip, Digits digits) {
    long out = strip.standingOut();
    return "Excess length of the track for each "
        + digits.ground(10, 0)
        + " of chainage, candidate minus baseline, on "
        + strip.course()
        + ": "
        + digits.sessions(strip.candidateSessions())
        + " against "
        + strip.baselineSessions()
        + ", each averaged first; laps and both directions by the same places. Band: 95 % for each"
        + " place alone, sessions resampled 2,000 times; "
        + digits.count(out)
        + " of "
        + digits.counted(strip.bins().size(), "place")
        + (out == 1 ? " leaves" : " leave")
        + " zero out, and one in twenty does by chance.";
  }

  /** What stands out, a sentence each. */
  public static List<String> told(DeviceDayCourse told, Digits digits) {
    List<String> all = new ArrayList<>();
    for (Finding f : told.findings()) all.add(sentence(f, told, digits));
    return all;
  }

  private static String sentence(Finding f, DeviceDayCourse told, Digits digits) {
    String by = digits.points(f.points(), 2);
    String control = digits.points(told.common(), 2);
    String where =
        f.place()
            .map(p -> p.whole() ? "On " + p.course() : "On " + stretch(p.fromM(), p.toM(), digits))
            .orElse("Everywhere");
    return switch (f.what()) {
      case CANNOT_TELL ->
          "Device, day and course can't be told apart: a control unit has to be carried in three"
              + " sessions of each release (so far "
              + told.candidateSessions()
              + " and "
              + told.baselineSessions()
              + ").";
      case THIS_MODEL ->
          "The model moved by "
              + by
              + " against the control units in the same sessions: the device or its firmware, not"
              + " the day.";
      case ALL_DEVICES ->
          "The control units moved as well, by "
              + control
              + ": the course or the sky, not the"
              + " firmware alone.";
      case PLACE_ALL_DEVICES ->
          where + " all devices changed, the control units by " + by + " of it: the course there.";
      case PLACE_THIS_MODEL ->
          where + " this model alone changed, by " + by + " of it: the firmware there.";
      case SESSION_ALL_DEVICES ->
          "In session "
              + f.session().orElse("")
              + " all devices were off alike, by "
              + by
              + ": the day.";
      case NOTHING ->
          told.course().isPresent()
              ? "In the track neither the model nor the control units moved, and no stretch and no"
                  + " session stands out."
              : "Neither the model nor the control units moved by what matters, and no course and no"
                  + " session stands out.";
    };
  }

  /** {@code 300 to 350 m}. */
  public static String stretch(double fromM, double toM, Digits digits) {
    return digits.groundWhole(fromM, toM);
  }
}
