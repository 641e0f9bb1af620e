package milewarden.benchmark;

import java.util.Optional;
import milewarden.course.ReferenceCourse;
import milewarden.device.Gait;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.LocalMetric;
import milewarden.geodesy.LocalPlane;
import milewarden.matching.CourseMatcher;
import milewarden.matching.Shapes;
import milewarden.matching.Timeline;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.track.Track;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;

/**
 * The engine's parts on the fixes of an hour: the metric of a step beside the geodesic, the plane,
 * and matching by progress beside the nearest place that JTS finds by its tree, which knows of no
 * leg and no lap.
 */
public class EngineBenchmark {
  /** Courses on which matching is measured. */
  public enum Ground {
    OVAL_20_M(oval(20)),
    OVAL_2_M(oval(2)),
    OVAL_20_CM(oval(0.2)),
    OVAL_2_CM(oval(0.02)),
    FIGURE_EIGHT(Walk.of(Shapes.figureEight()).withLaps(13)),
    LOOP(Walk.of(Hour.LOOP_MIN.course).withLaps(4)),
    OUT_BACK(Walk.of(Hour.OUT_BACK_MIN.course));

    final ReferenceCourse course;
    final CourseMatcher matcher;
    final NearestByJts jts;
    final Track track;

    Ground(Walk walk) {
      course = walk.course();
      matcher = CourseMatcher.of(course);
      jts = new NearestByJts(course);
      track =
          TrackSimulator.simulate(
                  walk.withGait(Gait.RUN, Hour.SPEED_MPS),
                  Receiver.PERFECT.withNoise(3, 20, 0.3),
                  Sky.CLEAR,
                  1)
              .track();
    }

    private static Walk oval(double edgeM) {
      return Walk.of(Shapes.oval(84.39, 36.8, edgeM)).withLaps(25);
    }

    int vertices() {
      return course.line().positions().size();
    }
  }

  /** Which course. */
  @State(Scope.Benchmark)
  public static class Which {
    @Param public Ground ground;
  }

  private static final Track TRACK = Hour.LOOP_MIN.track;

  @Benchmark
  public double inverseByGeographicLib() {
    double[] lat = TRACK.latitudesDeg();
    double[] lon = TRACK.longitudesDeg();
    double sum = 0;
    for (int i = 1; i < lat.length; i++)
      sum += Geodesics.lengthM(lat[i - 1], lon[i - 1], lat[i], lon[i]);
    return sum;
  }

  @Benchmark
  public double metric() {
    double[] lat = TRACK.latitudesDeg();
    double[] lon = TRACK.longitudesDeg();
    double sum = 0;
    for (int i = 1; i < lat.length; i++)
      sum += LocalMetric.lengthM(lat[i - 1], lon[i - 1], lat[i], lon[i]);
    return sum;
  }

  @Benchmark
  public double[] plane() {
    LocalPlane plane = LocalPlane.at(Hour.LOOP_MIN.course.line().middle());
    double[] x = new double[TRACK.size()];
    double[] y = new double[TRACK.size()];
    for (int i = 0; i < x.length; i++)
      plane.project(TRACK.latitudesDeg()[i], TRACK.longitudesDeg()[i], x, y, i);
    return y;
  }

  @Benchmark
  public double match(Which of) {
    Track track = of.ground.track;
    return of.ground.matcher.match(track, Timeline.of(track), Optional.empty()).nearShare();
  }

  @Benchmark
  public double nearestByJts(Which of) {
    return of.ground.jts.byTree(of.ground.track);
  }
}
