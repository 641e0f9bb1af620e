package milewarden.format;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import milewarden.course.Mark;
import milewarden.course.ReferenceCourse;
import milewarden.course.ReferenceCourse.HeightPoint;
import milewarden.geodesy.Position;

/** Writes a course as its file. */
final class CourseWriter {
  private static final JsonMapper JSON = JsonMapper.builder().build();
  private static final JsonNodeFactory NODES = JsonNodeFactory.instance;

  private CourseWriter() {}

  static String write(ReferenceCourse course) {
    ObjectNode root = NODES.objectNode().put("type", "FeatureCollection");
    ArrayNode features = root.putArray("features");
    ArrayNode line = NODES.arrayNode();
    for (Position p : course.line().positions()) line.add(coordinates(p));
    features.add(feature("LineString", line, properties(course)));
    for (Mark mark : course.marks())
      features.add(feature("Point", coordinates(mark.position()), properties(mark)));
    try {
      return JSON.writerWithDefaultPrettyPrinter().writeValueAsString(root) + "\n";
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("a course that cannot be written: " + course.slug(), e);
    }
  }

  private static ObjectNode feature(String type, ArrayNode coordinates, ObjectNode properties) {
    ObjectNode feature = NODES.objectNode().put("type", "Feature");
    feature.set("properties", properties);
    feature.putObject("geometry").put("type", type).set("coordinates", coordinates);
    return feature;
  }

  private static ArrayNode coordinates(Position p) {
    return NODES.arrayNode().add(p.longitudeDeg()).add(p.latitudeDeg());
  }

  private static ObjectNode properties(Mark mark) {
    ObjectNode node = NODES.objectNode().put("role", mark.role().name().toLowerCase(Locale.ROOT));
    put(node, "chainage_m", mark.chainageM());
    if (!mark.name().isEmpty()) node.put("name", mark.name());
    return node;
  }

  private static ObjectNode properties(ReferenceCourse course) {
    ObjectNode node =
        NODES
            .objectNode()
            .put("slug", course.slug().text())
            .put("name", course.name())
            .put("closed", course.closed())
            .put("measured_length_m", course.measuredLengthM())
            .put("standard_uncertainty_m", course.standardUncertaintyM());
    course.measuredOn().ifPresent(day -> node.put("measured_on", day.toString()));
    if (!course.measuredBy().isEmpty()) node.put("measured_by", course.measuredBy());
    node.put("method", course.method().code());
    put(node, "safety_factor", course.safetyFactor());
    put(node, "mean_height_m", course.meanHeightM());
    if (!course.heightProfile().isEmpty()) {
      ArrayNode profile = node.putArray("height_profile");
      for (HeightPoint p : course.heightProfile())
        profile.addArray().add(p.chainageM()).add(p.heightM());
    }
    put(node, "corridor_m", course.corridorM());
    if (!course.surface().isEmpty()) node.put("surface", course.surface());
    node.put("sky_view", course.skyView().code());
    if (!course.notes().isEmpty()) node.put("notes", course.notes());
    course
        .change()
        .ifPresent(
            c ->
                node.put("changed_by", c.author())
                    .put("changed_why", c.reason())
                    .put("changed_on", c.on().toString()));
    course.otherProperties().entrySet().stream()
        .sorted(Map.Entry.comparingByKey())
        .forEach(e -> node.set(e.getKey(), read(e.getKey(), e.getValue())));
    return node;
  }

  private static JsonNode read(String name, String json) {
    try {
      return JSON.readTree(json);
    } catch (JsonProcessingException e) {
      throw new IllegalArgumentException("property " + name + " is no JSON: " + json, e);
    }
  }

  private static void put(ObjectNode node, String name, OptionalDouble value) {
    if (value.isPresent()) node.put(name, value.getAsDouble());
  }
}
