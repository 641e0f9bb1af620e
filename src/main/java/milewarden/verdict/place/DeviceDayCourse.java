package milewarden.verdict.place;

import java.util.List;
import java.util.Optional;

/**
 * Was it the device, the day, or the course? The change since the baseline, polished over devices,
 * sessions and places, in points of percent of the length. Places are the stretches of one course,
 * where the excess of the track is asked about, or the courses, where the errors are.
 *
 * @param course slug; empty where places are the courses
 * @param candidateSessions in which the model and a control unit were carried together
 * @param baselineSessions the same before
 * @param common what every device shows alike, anchored at the control units
 * @param devices the model's units against the control units, whose median is 0
 * @param sessions against the median session
 * @param places against the median place
 * @param spread of what no effect explains, as a standard deviation
 * @param findings what stands out, most general first; {@link What#NOTHING} alone where nothing
 *     does
 */
public record DeviceDayCourse(
    Optional<String> course,
    int candidateSessions,
    int baselineSessions,
    double common,
    List<Effect> devices,
    List<Effect> sessions,
    List<Effect> places,
    double spread,
    List<Finding> findings) {
  public DeviceDayCourse {
    devices = List.copyOf(devices);
    sessions = List.copyOf(sessions);
    places = List.copyOf(places);
    findings = List.copyOf(findings);
    if (findings.isEmpty()) throw new IllegalArgumentException("findings: none");
  }

  /** A level of a factor and its effect in points. */
  public record Effect(String level, double points) {}

  /** What stands out. */
  public enum What {
    /** No control unit was carried often enough on either side. */
    CANNOT_TELL,
    /** The model moved and the control did not: the device or its firmware. */
    THIS_MODEL,
    /** The control moved too: the course or the sky, not the firmware. */
    ALL_DEVICES,
    /** All devices in one place: the course there. */
    PLACE_ALL_DEVICES,
    /** The model alone in one place: its firmware there. */
    PLACE_THIS_MODEL,
    /** All devices in one session: the day. */
    SESSION_ALL_DEVICES,
    NOTHING
  }

  /**
   * One thing that stands out.
   *
   * @param points of the model, or of all devices
   * @param place in which; empty where it is all
   * @param session in which; empty where it is all
   */
  public record Finding(
      What what, double points, Optional<Place> place, Optional<String> session) {}

  /**
   * A stretch of a course, or a course as a whole.
   *
   * @param fromM chainage, metres; with {@code toM} not used where it is the whole course
   */
  public record Place(String course, boolean whole, double fromM, double toM) {
    static Place stretch(String course, double fromM, double toM) {
      return new Place(course, false, fromM, toM);
    }

    static Place of(String course) {
      return new Place(course, true, 0, 0);
    }

    String name() {
      return whole ? course : Math.round(fromM) + "-" + Math.round(toM);
    }
  }
}
