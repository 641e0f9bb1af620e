package milewarden.benchmark;

import java.util.List;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.LocalPlane;
import milewarden.geodesy.PlanePoint;
import milewarden.geodesy.Position;
import milewarden.track.Track;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.LineSegment;
import org.locationtech.jts.geom.LineString;
import org.locationtech.jts.index.strtree.STRtree;
import org.locationtech.jts.linearref.LengthIndexedLine;

/** The nearest point of a line for every fix by JTS, in the two ways that its users write. */
final class NearestByJts {
  /** As far as our own search looks. */
  private static final double RADIUS_M = 50;

  private final LocalPlane plane;
  private final LengthIndexedLine line;
  private final STRtree tree = new STRtree();

  NearestByJts(ReferenceCourse course) {
    plane = LocalPlane.at(course.line().middle());
    List<Position> positions = course.line().positions();
    Coordinate[] c = new Coordinate[positions.size()];
    for (int i = 0; i < c.length; i++)
      c[i] = at(positions.get(i).latitudeDeg(), positions.get(i).longitudeDeg());
    LineString string = new GeometryFactory().createLineString(c);
    line = new LengthIndexedLine(string);
    for (int i = 1; i < c.length; i++)
      tree.insert(new Envelope(c[i - 1], c[i]), new LineSegment(c[i - 1], c[i]));
    tree.build();
  }

  private Coordinate at(double latitudeDeg, double longitudeDeg) {
    PlanePoint p = plane.project(latitudeDeg, longitudeDeg);
    return new Coordinate(p.xM(), p.yM());
  }

  /** Chainage by JTS's linear referencing: every edge is looked at for every fix. */
  double byLine(double[] latitudeDeg, double[] longitudeDeg) {
    double sum = 0;
    for (int i = 0; i < latitudeDeg.length; i++)
      sum += line.project(at(latitudeDeg[i], longitudeDeg[i]));
    return sum;
  }

  /** The distance alone: the edges near a fix by a tree, then the nearest of them. */
  double byTree(Track track) {
    return byTree(track.latitudesDeg(), track.longitudesDeg());
  }

  double byTree(double[] latitudeDeg, double[] longitudeDeg) {
    double sum = 0;
    for (int i = 0; i < latitudeDeg.length; i++) {
      Coordinate p = at(latitudeDeg[i], longitudeDeg[i]);
      Envelope around = new Envelope(p);
      around.expandBy(RADIUS_M);
      double least = RADIUS_M;
      for (Object found : tree.query(around))
        least = Math.min(least, ((LineSegment) found).distance(p));
      sum += least;
    }
    return sum;
  }
}
