package milewarden.matching.line;

import java.util.Arrays;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.LocalPlane;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Position;

/**
 * A course's line in a plane of true angles, with the geodesic chainage of its vertices. Immutable.
 *
 * <p>A closed line is unrolled: chainage and heading go on over laps. The first and last edges of
 * an open one go on straight.
 */
public final class CourseLine {
  private final LocalPlane plane;
  private final boolean closed;
  private final double lengthM;
  private final Edges edges;
  private final FootSearch search;

  public CourseLine(ReferenceCourse course) {
    Polyline line = course.line();
    plane = LocalPlane.at(line.middle());
    closed = course.closed();
    int n = line.positions().size();
    double[] along = line.chainagesM();
    double[] px = new double[n];
    double[] py = new double[n];
    double[] ch = new double[n];
    int k = 0;
    for (int i = 0; i < n; i++) {
      // A vertex on the one before has no direction and adds no length.
      if (k > 0 && !(along[i] > ch[k - 1])) continue;
      Position p = line.positions().get(i);
      plane.project(p.latitudeDeg(), p.longitudeDeg(), px, py, k);
      ch[k++] = along[i];
    }
    if (k < 2)
      throw new IllegalArgumentException("the line of " + course.slug() + " has no length");
    edges = new Edges(closed, Arrays.copyOf(px, k), Arrays.copyOf(py, k), Arrays.copyOf(ch, k));
    lengthM = edges.lengthM;
    search = new FootSearch(edges);
  }

  public LocalPlane plane() {
    return plane;
  }

  public boolean closed() {
    return closed;
  }

  /** Geodesic length on the ellipsoid of one traversal or lap, metres. */
  public double lengthM() {
    return lengthM;
  }

  int vertices() {
    return edges.x.length;
  }

  double x(int vertex) {
    return edges.x[vertex];
  }

  double y(int vertex) {
    return edges.y[vertex];
  }

  double chainage(int vertex) {
    return edges.chainage[vertex];
  }

  /** The heading of the line at an unrolled chainage; at a vertex that of the edge behind it. */
  public double headingAt(double chainageM) {
    return edges.unwound(edges.at(chainageM));
  }

  /** {@link #headingAt} of many; an edge is looked up only where the one before ends. */
  public double[] headingsAt(double[] chainageM) {
    double[] out = new double[chainageM.length];
    double lapM = 0;
    double low = Double.POSITIVE_INFINITY;
    double high = low;
    double here = 0;
    for (int i = 0; i < out.length; i++) {
      double at = chainageM[i] - lapM;
      if (!(at >= low && at < high)) {
        int g = edges.at(chainageM[i]);
        int lap = Math.floorDiv(g, edges.count);
        int e = g - lap * edges.count;
        lapM = lap * lengthM;
        low = edges.chainage[e];
        high = edges.chainage[e + 1];
        here = edges.unwound(g);
      }
      out[i] = here;
    }
    return out;
  }

  /**
   * The nearest point of the line within {@code windowM} of chainage either side, and from there on
   * as long as the line comes nearer still. Where the vertices lie makes no difference.
   */
  public void foot(double px, double py, double nearM, double windowM, Foot out) {
    edges.write(px, py, search.edge(px, py, nearM, windowM), out);
  }

  /** Distance from the whole line, every edge looked at; not prolonged beyond the ends. */
  public double distance(double px, double py) {
    double least = Double.POSITIVE_INFINITY;
    for (int e = 0; e < edges.count; e++) least = Math.min(least, edges.squaredOfPart(px, py, e));
    return Math.sqrt(least);
  }
}
