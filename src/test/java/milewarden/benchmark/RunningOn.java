package milewarden.benchmark;

import java.util.ArrayList;
import java.util.List;
import milewarden.course.ReferenceCourse;
import milewarden.device.Carriage;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.LocalPlane;
import milewarden.geodesy.PlanePoint;
import milewarden.geodesy.Position;
import milewarden.simulator.Receiver;
import milewarden.simulator.SimulatedTrack;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Tracker;
import milewarden.simulator.Walk;

/**
 * How far a filter that carries a speed along takes a track to the outside of the bends of a closed
 * course: by the places of a body on the line and a device without noise, fix by fix, and not by
 * the engine.
 */
final class RunningOn {
  // ENGINE section 6: a bend has a radius below 50 m. Over so many metres, since lines are
  // polygons.
  private static final double BEND_M = 50;
  private static final double OVER_M = 10;
  private static final double BEHIND_M = 30;
  private static final double NEAR_M = 60;

  private final ReferenceCourse course;
  private final double[] x;
  private final double[] y;
  private final double[] along;
  private final LocalPlane plane;

  private record Bend(double fromM, double toM, int side) {}

  private RunningOn(ReferenceCourse course) {
    this.course = course;
    List<Position> line = course.line().positions();
    plane = LocalPlane.at(line.get(0));
    x = new double[line.size()];
    y = new double[line.size()];
    along = new double[line.size()];
    for (int i = 0; i < line.size(); i++) {
      Position p = line.get(i);
      PlanePoint at = plane.project(p.latitudeDeg(), p.longitudeDeg());
      x[i] = at.xM();
      y[i] = at.yM();
      if (i > 0) {
        Position o = line.get(i - 1);
        along[i] =
            along[i - 1]
                + Geodesics.lengthM(
                    o.latitudeDeg(), o.longitudeDeg(), p.latitudeDeg(), p.longitudeDeg());
      }
    }
  }

  /** Mean over the bends of all laps of the largest distance to the outside, metres. */
  static double meanM(Walk walk, Tracker tracker, long seed) {
    RunningOn on = new RunningOn(walk.course());
    Walk onLine = walk.withCarriage(Carriage.FIXED).withVariation(0.05, 0);
    Sky sky = new Sky(seed, 0, 1, 1, 0);
    SimulatedTrack made =
        TrackSimulator.simulate(onLine, Receiver.PERFECT.withTracker(tracker), sky, seed);
    return on.mean(made);
  }

  private double mean(SimulatedTrack made) {
    double lap = course.horizontalM();
    List<Bend> bends = bends();
    double sum = 0;
    int passed = 0;
    double[] chainage = made.truth().chainageM();
    int laps = (int) Math.round(chainage[chainage.length - 1] / lap);
    for (int l = 0; l < laps; l++) {
      for (int b = 0; b < bends.size(); b++) {
        Bend bend = bends.get(b);
        double next = b + 1 < bends.size() ? bends.get(b + 1).fromM : lap;
        double from = l * lap + bend.fromM;
        double to = l * lap + Math.min(next, bend.toM + BEHIND_M);
        double most = 0;
        for (int i = 0; i < chainage.length; i++)
          if (chainage[i] >= from && chainage[i] <= to)
            most =
                Math.max(
                    most,
                    -bend.side
                        * right(
                            made.track().latitudesDeg()[i],
                            made.track().longitudesDeg()[i],
                            chainage[i] % lap));
        sum += most;
        passed++;
      }
    }
    return sum / passed;
  }

  private double heading(double at) {
    double lap = along[along.length - 1];
    double s = ((at % lap) + lap) % lap;
    int i = 1;
    while (i + 1 < along.length && along[i] < s) i++;
    return Math.atan2(x[i] - x[i - 1], y[i] - y[i - 1]);
  }

  private List<Bend> bends() {
    List<Bend> out = new ArrayList<>();
    double lap = along[along.length - 1];
    int side = 0;
    double from = 0;
    for (double s = 0; s < lap; s += 0.5) {
      double turn =
          Math.IEEEremainder(heading(s + OVER_M / 2) - heading(s - OVER_M / 2), 2 * Math.PI);
      int now = Math.abs(turn) > OVER_M / BEND_M ? (int) Math.signum(turn) : 0;
      if (now == side) continue;
      if (side != 0) out.add(new Bend(from, s, side));
      from = s;
      side = now;
    }
    return out;
  }

  /** Distance to the right of the nearest place of the line around this chainage. */
  private double right(double latDeg, double lonDeg, double atM) {
    PlanePoint p = plane.project(latDeg, lonDeg);
    double lap = along[along.length - 1];
    double best = Double.POSITIVE_INFINITY;
    double right = 0;
    for (int i = 1; i < x.length; i++) {
      if (Math.abs(Math.IEEEremainder(along[i] - atM, lap)) > NEAR_M
          && Math.abs(Math.IEEEremainder(along[i - 1] - atM, lap)) > NEAR_M) continue;
      double dx = x[i] - x[i - 1];
      double dy = y[i] - y[i - 1];
      double size = dx * dx + dy * dy;
      double t = ((p.xM() - x[i - 1]) * dx + (p.yM() - y[i - 1]) * dy) / size;
      t = Math.max(0, Math.min(1, t));
      double ex = p.xM() - x[i - 1] - t * dx;
      double ey = p.yM() - y[i - 1] - t * dy;
      double d = Math.hypot(ex, ey);
      if (d >= best) continue;
      best = d;
      right = Math.copySign(d, ex * dy - ey * dx);
    }
    return right;
  }
}
