package milewarden.matching;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;
import milewarden.track.Track;

/** Courses on which matching is hard, and tracks made worse. */
public final class Shapes {
  public static final Position HERE = new Position(52.3, -31.4);

  private Shapes() {}

  public static ReferenceCourse course(String slug, boolean closed, double[]... eastNorth) {
    return InventedCourse.of(slug, slug, closed, InventedCourse.laidOut(HERE, List.of(eastNorth)));
  }

  public static ReferenceCourse oval() {
    return oval(84.39, 36.8, 2);
  }

  /** Two straights joined by half circles, anticlockwise from the south of the eastern one. */
  public static ReferenceCourse oval(double straightM, double radiusM, double edgeM) {
    List<double[]> p = new ArrayList<>();
    int parts = (int) Math.ceil(Math.PI * radiusM / edgeM);
    p.add(new double[] {radiusM, -straightM / 2});
    for (int bend = 0; bend < 2; bend++)
      for (int i = 0; i <= parts; i++) {
        double a = Math.PI * (bend + (double) i / parts);
        double north = (bend == 0 ? straightM : -straightM) / 2 + radiusM * Math.sin(a);
        p.add(new double[] {radiusM * Math.cos(a), north});
      }
    p.set(p.size() - 1, p.get(0));
    return course("oval", true, p.toArray(new double[0][]));
  }

  /** Two loops of radius 60 m that cross in the middle; 754 m. */
  public static ReferenceCourse figureEight() {
    List<double[]> p = new ArrayList<>();
    int parts = 120;
    for (int i = 0; i < parts; i++) {
      double a = 2 * Math.PI * i / parts;
      p.add(new double[] {60 - 60 * Math.cos(a), 60 * Math.sin(a)});
    }
    for (int i = 0; i < parts; i++) {
      double a = 2 * Math.PI * i / parts;
      p.add(new double[] {-60 + 60 * Math.cos(a), 60 * Math.sin(a)});
    }
    p.add(p.get(0));
    return course("figure-eight", true, p.toArray(new double[0][]));
  }

  /** Up 400 m, over 6 m, down 400 m: two legs 6 m apart. */
  public static ReferenceCourse twoLegs() {
    return course(
        "two-legs",
        false,
        new double[] {0, 0},
        new double[] {0, 400},
        new double[] {6, 400},
        new double[] {6, 0});
  }

  /** A hairpin of radius 12 m between legs of 300 m. */
  public static ReferenceCourse hairpin() {
    List<double[]> p = new ArrayList<>();
    p.add(new double[] {0, 0});
    for (int i = 0; i <= 12; i++) {
      double a = Math.PI * i / 12;
      p.add(new double[] {12 - 12 * Math.cos(a), 300 + 12 * Math.sin(a)});
    }
    p.add(new double[] {24, 0});
    return course("hairpin", false, p.toArray(new double[0][]));
  }

  public static ReferenceCourse straight(double lengthM) {
    return InventedCourse.straight("straight", HERE, 37, lengthM);
  }

  /** A straight course that goes on beyond the end of another one. */
  static ReferenceCourse prolonged(ReferenceCourse straight, double byM) {
    return InventedCourse.straight("prolonged", HERE, 37, straight.line().lengthM() + byM);
  }

  /** Every {@code every}-th fix thrown 40 to 150 m in a random direction. */
  public static Track withOutliers(Track t, int every, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    double[] lat = t.latitudesDeg().clone();
    double[] lon = t.longitudesDeg().clone();
    for (int i = every / 2; i < lat.length; i += every) {
      Position p =
          milewarden.geodesy.Geodesics.direct(
              new Position(lat[i], lon[i]), random.nextDouble(360), random.nextDouble(40, 150));
      lat[i] = p.latitudeDeg();
      lon[i] = p.longitudeDeg();
    }
    return with(t, lat, lon, t.timesMs());
  }

  public static Track with(Track t, double[] lat, double[] lon, long[] times) {
    int[] starts = new int[t.segments()];
    for (int s = 0; s < starts.length; s++) starts[s] = t.segmentStart(s);
    return new Track(
        t.format(),
        lat,
        lon,
        t.heightsM(),
        times,
        t.distancesM(),
        t.speedsMps(),
        starts,
        t.claim(),
        t.claimedTotalM());
  }

  public static Track withoutTimes(Track t) {
    long[] times = new long[t.size()];
    java.util.Arrays.fill(times, Track.NO_TIME);
    return with(t, t.latitudesDeg(), t.longitudesDeg(), times);
  }
}
