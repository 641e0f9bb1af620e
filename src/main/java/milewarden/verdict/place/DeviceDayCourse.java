package milewarden.verdict.place;

import java.util.List;
import java.util.Optional;

/**
 * Was it the device, the day, or the course? The change of the excess since the baseline, polished
 * over devices, sessions and stretches of the course, in points of percent of the length.
 *
 * @param candidateSessions in which the model and a control unit were carried together
 * @param baselineSessions the same before
 * @param common what every device shows alike, anchored at the control units
 * @param devices the model's units against the control units, whose median is 0
 * @param sessions against the median session
 * @param stretches against the median stretch
 * @param spread of what no effect explains, as a standard deviation
 * @param findings what stands out, most general first; {@link What#NOTHING} alone where nothing
 *     does
 */
public record DeviceDayCourse(
    String course,
    String courseVersion,
    int candidateSessions,
    int baselineSessions,
    double common,
    List<Effect> devices,
    List<Effect> sessions,
    List<Effect> stretches,
    double spread,
    List<Finding> findings) {
  public DeviceDayCourse {
    devices = List.copyOf(devices);
    sessions = List.copyOf(sessions);
    stretches = List.copyOf(stretches);
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
    /** All devices on one stretch: the course there. */
    STRETCH_ALL_DEVICES,
    /** The model alone on one stretch: its firmware there. */
    STRETCH_THIS_MODEL,
    /** All devices in one session: the day. */
    SESSION_ALL_DEVICES,
    NOTHING
  }

  /**
   * One thing that stands out.
   *
   * @param points of the model, or of all devices
   * @param stretch on which; empty where it is the whole course
   * @param session in which; empty where it is all
   */
  public record Finding(
      What what, double points, Optional<Stretch> stretch, Optional<String> session) {}

  /** A part of the course, metres of chainage. */
  public record Stretch(double fromM, double toM) {}
}
