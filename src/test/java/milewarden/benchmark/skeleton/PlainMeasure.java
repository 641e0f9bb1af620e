package milewarden.benchmark.skeleton;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.jenetics.jpx.GPX;
import io.jenetics.jpx.WayPoint;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import net.sf.geographiclib.Geodesic;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.linearref.LengthIndexedLine;

/**
 * What general-purpose libraries do with a recording and a course, in a process of its own: jpx
 * reads, GeographicLib sums the length, JTS finds each fix's nearest place along the line.
 */
public final class PlainMeasure {
  private PlainMeasure() {}

  /**
   * @param args the recording as GPX, the course as GeoJSON
   */
  public static void main(String[] args) throws IOException {
    List<WayPoint> fixes =
        GPX.read(Path.of(args[0]))
            .tracks()
            .flatMap(t -> t.segments())
            .flatMap(s -> s.points())
            .toList();
    LengthIndexedLine line = line(Path.of(args[1]));
    double lengthM = 0;
    double along = 0;
    for (int i = 0; i < fixes.size(); i++) {
      double lat = fixes.get(i).getLatitude().doubleValue();
      double lon = fixes.get(i).getLongitude().doubleValue();
      if (i > 0)
        lengthM +=
            Geodesic.WGS84.Inverse(
                    fixes.get(i - 1).getLatitude().doubleValue(),
                    fixes.get(i - 1).getLongitude().doubleValue(),
                    lat,
                    lon)
                .s12;
      along = Math.max(along, line.project(plane(lat, lon)));
    }
    System.out.println(fixes.size() + " fixes, " + lengthM + " m, as far as " + along);
  }

  private static LengthIndexedLine line(Path course) throws IOException {
    for (JsonNode feature : new ObjectMapper().readTree(course.toFile()).get("features")) {
      JsonNode geometry = feature.get("geometry");
      if (!geometry.get("type").asText().equals("LineString")) continue;
      JsonNode at = geometry.get("coordinates");
      Coordinate[] c = new Coordinate[at.size()];
      for (int i = 0; i < c.length; i++)
        c[i] = plane(at.get(i).get(1).asDouble(), at.get(i).get(0).asDouble());
      return new LengthIndexedLine(new GeometryFactory().createLineString(c));
    }
    throw new IllegalArgumentException(course + " has no line");
  }

  // Degrees of longitude at the scale of those of latitude: enough for what is nearest.
  private static Coordinate plane(double lat, double lon) {
    return new Coordinate(lon * Math.cos(Math.toRadians(lat)), lat);
  }
}
