package milewarden.report.page.course;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.verdict.ground.CourseWatch;
import milewarden.verdict.ground.CourseWatch.Shift;
import milewarden.verdict.ground.CourseWatch.Watched;

/**
 * What watching a course says.
 *
 * @param alarms what shifted, a sentence each; empty where nothing did
 * @param quiet what was watched without finding a shift
 */
public record WatchLines(List<String> alarms, List<String> quiet) {
  public WatchLines {
    alarms = List.copyOf(alarms);
    quiet = List.copyOf(quiet);
  }

  /**
   * @param asOf when it was worked out, where something has moved since that it doesn't tell yet
   */
  public static WatchLines of(CourseWatch watch, Optional<Instant> asOf, Digits digits) {
    List<String> alarms = new ArrayList<>();
    List<String> quiet = new ArrayList<>();
    for (Watched w : watch.watched()) {
      if (w.shift().filter(Shift::matters).isPresent())
        alarms.add(alarm(w, w.shift().get(), digits));
      else if (w.shift().isPresent())
        quiet.add(
            subject(w)
                + ": a shift of "
                + digits.points(w.shift().get().points(), 2)
                + " since "
                + digits.date(w.shift().get().since())
                + ", too small to matter.");
      else
        quiet.add(
            subject(w) + ": no shift in " + digits.sessions(w.sessions()) + " on this course.");
    }
    if (quiet.isEmpty() && alarms.isEmpty())
      quiet.add(
          "Nothing to watch by yet: it takes two sessions with a control unit, or with two devices"
              + " side by side.");
    asOf.ifPresent(
        at ->
            quiet.add(
                "Worked out at "
                    + digits.moment(at)
                    + ", with the runs and sessions counted here; what was measured or changed"
                    + " since then is added within minutes."));
    return new WatchLines(alarms, quiet);
  }

  private static String subject(Watched w) {
    return w.unit().map(u -> "Control unit " + u).orElse("All devices");
  }

  private static String alarm(Watched w, Shift shift, Digits digits) {
    String start =
        subject(w)
            + (w.unit().isPresent() ? " reads " : " read ")
            + digits.points(shift.points(), 2)
            + " against before since "
            + digits.date(shift.since())
            + " (session "
            + shift.session()
            + ")";
    if (shift.isEverywhere())
      return start
          + ", and "
          + digits.points(shift.elsewhere().orElse(0), 2)
          + " on the other courses: look at the control unit itself before you blame this course.";
    String there =
        shift.elsewhere().isPresent()
            ? ", on the other courses " + digits.points(shift.elsewhere().getAsDouble(), 2)
            : "";
    return start
        + there
        + ": the course or the sky, not the firmware. Walk the course, look for works and new"
        + " leaves, and measure it again.";
  }
}
