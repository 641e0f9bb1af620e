package milewarden.matching;

import java.util.ArrayList;
import java.util.List;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.SimulatedTrack;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;

/** Walks that leave their course and come back to it. */
final class Detours {
  private final List<Position> way = new ArrayList<>();
  private final List<Double> low = new ArrayList<>();
  private final List<Double> high = new ArrayList<>();

  private Detours() {}

  private void add(Position at, double lowM, double highM) {
    way.add(at);
    low.add(lowM);
    high.add(highM);
  }

  /**
   * 1,000 m straight on; at 400 m 80 m to the side, 150 m along, and back: 150 m are not walked.
   */
  static KnownTrack ahead(Receiver receiver, long seed) {
    ReferenceCourse course = Shapes.straight(1000);
    Position from = course.line().positions().get(0);
    Position leave = Geodesics.direct(from, 37, 400);
    Position back = Geodesics.direct(from, 37, 550);
    Detours d = new Detours();
    d.add(from, 0, 0);
    d.add(leave, 400, 400);
    d.add(Geodesics.direct(leave, 127, 80), 400, 550);
    d.add(Geodesics.direct(back, 127, 80), 400, 550);
    d.add(back, 550, 550);
    d.add(course.line().positions().get(1), 1000, 1000);
    return d.walked(course, receiver, seed);
  }

  /** Three laps of the oval; in the second {@code outM} straight off it and back the same way. */
  static KnownTrack aside(Receiver receiver, double outM, long seed) {
    ReferenceCourse course = Shapes.oval();
    List<Position> line = course.line().positions();
    double[] along = course.line().chainagesM();
    Detours d = new Detours();
    d.add(line.get(0), 0, 0);
    int leave = line.size() / 3;
    for (int lap = 0; lap < 3; lap++)
      for (int i = 1; i < line.size(); i++) {
        double at = lap * course.horizontalM() + along[i];
        d.add(line.get(i), at, at);
        if (lap != 1 || i != leave) continue;
        // Away from the middle of the oval, so that the line does not come near again.
        double outward = Geodesics.azimuthDeg(course.line().middle(), line.get(i));
        d.add(Geodesics.direct(line.get(i), outward, outM), at, at);
        d.add(line.get(i), at, at);
      }
    return d.walked(course, receiver, seed);
  }

  private KnownTrack walked(ReferenceCourse course, Receiver receiver, long seed) {
    ReferenceCourse path = InventedCourse.of("way", "way", false, way);
    double[] at = path.line().chainagesM();
    Walk walk = Walk.of(path).withVariation(0.05, 0.3);
    SimulatedTrack s = TrackSimulator.simulate(walk, receiver, Sky.CLEAR, seed);
    double[] gone = s.truth().chainageM();
    double[] lowM = new double[gone.length];
    double[] highM = new double[gone.length];
    for (int i = 0; i < gone.length; i++) {
      int e = 0;
      while (e + 2 < at.length && at[e + 1] <= gone[i]) e++;
      double t = (gone[i] - at[e]) / (at[e + 1] - at[e]);
      boolean on = low.get(e).equals(high.get(e)) && low.get(e + 1).equals(high.get(e + 1));
      lowM[i] = on ? low.get(e) + t * (low.get(e + 1) - low.get(e)) : low.get(e);
      highM[i] = on ? lowM[i] : Math.max(high.get(e), high.get(e + 1));
      if (!on) lowM[i] = Math.min(low.get(e), low.get(e + 1));
    }
    return KnownTrack.of(course, s, lowM, highM);
  }
}
