package milewarden.format;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.course.CourseIssue;
import milewarden.course.CourseNotice;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Position;

/** Positions and lines of GeoJSON (RFC 7946, section 3.1): longitude first. */
final class CourseGeometry {
  private CourseGeometry() {}

  /** The position at a pointer; reports what is wrong with it. */
  static Optional<Position> position(JsonNode node, String pointer, List<CourseIssue> issues) {
    String why = "";
    if (!node.isArray() || node.size() < 2 || !node.get(0).isNumber() || !node.get(1).isNumber()) {
      why = ": [longitude, latitude] in degrees";
    } else {
      double longitude = node.get(0).doubleValue();
      double latitude = node.get(1).doubleValue();
      if (Math.abs(longitude) <= 180 && Math.abs(latitude) <= 90)
        return Optional.of(new Position(latitude, longitude));
      boolean swapped = Math.abs(latitude) <= 180 && Math.abs(longitude) <= 90;
      why = swapped ? ": longitude comes first" : ": off the globe";
    }
    issues.add(
        new CourseIssue(
            CourseIssue.Kind.BAD_POSITION,
            Optional.of(pointer),
            CourseProperties.shown(node) + why));
    return Optional.empty();
  }

  /** The line of a LineString; reports what is wrong with it. */
  static Optional<Polyline> line(
      JsonNode geometry, String pointer, List<CourseIssue> issues, List<CourseNotice> notices) {
    JsonNode coordinates = geometry.path("coordinates");
    List<Position> positions = new ArrayList<>();
    int wrong = issues.size();
    int repeated = 0;
    boolean heights = false;
    for (int i = 0; i < coordinates.size(); i++) {
      String at = pointer + "/coordinates/" + i;
      Optional<Position> p = position(coordinates.get(i), at, issues);
      // A swapped or mistyped file would else give a page of the same sentence.
      if (issues.size() >= wrong + 3) break;
      if (p.isEmpty()) continue;
      heights |= coordinates.get(i).size() > 2;
      if (!positions.isEmpty() && positions.get(positions.size() - 1).equals(p.get())) repeated++;
      else positions.add(p.get());
    }
    if (issues.size() > wrong) return Optional.empty();
    if (positions.size() < 2) {
      issues.add(
          new CourseIssue(
              CourseIssue.Kind.TOO_FEW_POSITIONS,
              Optional.of(pointer + "/coordinates"),
              positions.size() + " different"));
      return Optional.empty();
    }
    if (heights) notices.add(new CourseNotice(CourseNotice.Kind.LINE_HEIGHTS_UNUSED, ""));
    if (repeated > 0)
      notices.add(new CourseNotice(CourseNotice.Kind.REPEATED_POSITION, repeated + ""));
    return Optional.of(new Polyline(positions));
  }

  /** Metres between the two ends of a line. */
  static double openingM(Polyline line) {
    Position a = line.positions().get(0);
    Position b = line.positions().get(line.positions().size() - 1);
    return Geodesics.lengthM(a.latitudeDeg(), a.longitudeDeg(), b.latitudeDeg(), b.longitudeDeg());
  }
}
