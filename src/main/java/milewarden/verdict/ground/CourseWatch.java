package milewarden.verdict.ground;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.statistics.Cusum;
import milewarden.statistics.Sample;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;

/**
 * Whether a control unit, or all devices together, shifted on one course: then it is the course or
 * the sky, not the firmware.
 *
 * <p>Two kinds of series, a value per session: of each control unit its mean error on the course;
 * of all devices the session's effect in a median polish of device by session, a release of a unit
 * being a device of its own, so that a new firmware moves its own row alone. Each runs through the
 * self-starting cumulative sum of the policy.
 *
 * @param watched the control units by name, then all devices
 */
public record CourseWatch(List<Watched> watched) {
  /** The other half of a material change would have to come from the firmware: our own choice. */
  private static final double MATTERS = 0.5;

  public CourseWatch {
    watched = List.copyOf(watched);
  }

  /**
   * What is watched.
   *
   * @param unit of a control; empty where it is all devices
   * @param sessions values in the series
   * @param shift the first one found
   */
  public record Watched(Optional<String> unit, int sessions, Optional<Shift> shift) {}

  /**
   * A shift.
   *
   * @param session the first session after it, as the cumulative sum places it
   * @param since that session's day
   * @param points mean after minus mean before, points of percent
   * @param elsewhere the same of the same unit on the other courses; empty where too few sessions
   *     lie there on either side, and for all devices
   * @param matters whether it is half the material change or more; a smaller one is told, and asks
   *     for nothing
   */
  public record Shift(
      String session, LocalDate since, double points, OptionalDouble elsewhere, boolean matters) {
    /** The unit moved on the other courses by half as much or more: it is not this course. */
    public boolean isEverywhere() {
      return elsewhere.isPresent()
          && elsewhere.getAsDouble() * points > 0
          && Math.abs(elsewhere.getAsDouble()) >= Math.abs(points) / 2;
    }
  }

  /**
   * Watches a course.
   *
   * @param on passes on the course's version in force, of all models and control units
   * @param elsewhere passes of control units on other courses
   */
  public static CourseWatch of(
      Collection<PassEvidence> on, Collection<PassEvidence> elsewhere, Policy policy) {
    List<Watched> watched = new ArrayList<>();
    on.stream()
        .filter(PassEvidence::control)
        .map(PassEvidence::unit)
        .distinct()
        .sorted()
        .forEach(
            unit ->
                watched.add(
                    watch(
                        Optional.of(unit),
                        SessionSeries.ofUnit(unit, on),
                        SessionSeries.ofUnit(unit, elsewhere),
                        policy)));
    SessionSeries all = SessionSeries.ofAll(on);
    if (all.size() > 0) watched.add(watch(Optional.empty(), all, SessionSeries.NONE, policy));
    return new CourseWatch(watched);
  }

  private static Watched watch(
      Optional<String> unit, SessionSeries series, SessionSeries other, Policy policy) {
    double[] x = series.values();
    Cusum sums = Cusum.of(Cusum.selfStarting(x), policy.cusumSlack(), policy.cusumLimit());
    return new Watched(
        unit,
        x.length,
        sums.signalAt().isPresent()
            ? Optional.of(shift(series, other, sums, sums.signalAt().getAsInt(), policy))
            : Optional.empty());
  }

  private static Shift shift(
      SessionSeries series, SessionSeries other, Cusum sums, int at, Policy policy) {
    List<Double> side = sums.high().get(at) > policy.cusumLimit() ? sums.high() : sums.low();
    // The sum's last zero is where the shift began (NIST/SEMATECH e-Handbook, 6.3.2.3).
    int first = at;
    while (first > 0 && side.get(first - 1) > 0) first--;
    double points = series.change(series.starts().get(first)).orElse(0);
    return new Shift(
        series.sessions().get(first),
        series.dates().get(first),
        points,
        other.change(series.starts().get(first)),
        Math.abs(points) >= MATTERS * policy.materialChangePercent());
  }

  /** Mean of the later values minus mean of the earlier ones. */
  static double difference(double[] before, double[] after) {
    return Sample.of(after).mean() - Sample.of(before).mean();
  }
}
