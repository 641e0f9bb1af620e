package milewarden.format;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Function;
import milewarden.course.CourseIssue;
import milewarden.course.ReferenceCourse.HeightPoint;
import milewarden.format.fixes.IssueLog;

/**
 * The properties of one feature: each is asked for once by name and type; what is missing or wrong
 * becomes an issue with its JSON pointer, what is never asked for is kept as unknown.
 */
final class CourseProperties {
  private final JsonNode node;
  private final String pointer;
  private final List<CourseIssue> issues;
  private final Set<String> known = new LinkedHashSet<>();

  CourseProperties(JsonNode node, String pointer, List<CourseIssue> issues) {
    this.node = node;
    this.pointer = pointer;
    this.issues = issues;
  }

  private Optional<JsonNode> find(String name) {
    known.add(name);
    JsonNode value = node.get(name);
    return value == null || value.isNull() ? Optional.empty() : Optional.of(value);
  }

  boolean has(String name) {
    return find(name).isPresent();
  }

  void missing(String name) {
    issue(CourseIssue.Kind.MISSING_PROPERTY, name, "");
  }

  void bad(String name, String why) {
    issue(CourseIssue.Kind.BAD_PROPERTY, name, why);
  }

  private void issue(CourseIssue.Kind kind, String name, String detail) {
    issues.add(new CourseIssue(kind, Optional.of(pointer + "/" + name), detail));
  }

  /** Reports the property as missing where it is. */
  CourseProperties required(String... names) {
    for (String name : names) if (!has(name)) missing(name);
    return this;
  }

  OptionalDouble number(String name, double least, double most) {
    Optional<JsonNode> found = find(name);
    if (found.isEmpty()) return OptionalDouble.empty();
    double value = found.get().isNumber() ? found.get().doubleValue() : Double.NaN;
    if (value >= least && value <= most) return OptionalDouble.of(value);
    bad(name, shown(found.get()) + ": a number from " + plain(least) + " to " + plain(most));
    return OptionalDouble.empty();
  }

  private static String plain(double bound) {
    return bound == Math.rint(bound) ? Long.toString((long) bound) : Double.toString(bound);
  }

  Optional<String> text(String name) {
    Optional<JsonNode> found = find(name);
    if (found.isEmpty()) return Optional.empty();
    if (found.get().isTextual()) return Optional.of(found.get().textValue().strip());
    bad(name, shown(found.get()) + ": a text");
    return Optional.empty();
  }

  /** A text that {@code parse} understands; {@code wanted} says what that is. */
  <T> Optional<T> coded(String name, Function<String, Optional<T>> parse, String wanted) {
    Optional<String> text = text(name);
    Optional<T> value = text.flatMap(parse);
    if (text.isPresent() && value.isEmpty()) bad(name, text.get() + ": " + wanted);
    return value;
  }

  Optional<LocalDate> date(String name) {
    return coded(name, CourseProperties::day, "a date as 2026-05-12");
  }

  private static Optional<LocalDate> day(String text) {
    try {
      return Optional.of(LocalDate.parse(text));
    } catch (DateTimeException e) {
      return Optional.empty();
    }
  }

  Optional<Boolean> bool(String name) {
    Optional<JsonNode> found = find(name);
    if (found.isEmpty()) return Optional.empty();
    if (found.get().isBoolean()) return Optional.of(found.get().booleanValue());
    bad(name, shown(found.get()) + ": true or false");
    return Optional.empty();
  }

  /** Pairs of chainage and height, ascending, less steep than upright; empty where none. */
  List<HeightPoint> profile(String name) {
    Optional<JsonNode> found = find(name);
    List<HeightPoint> points = new ArrayList<>();
    if (found.isEmpty()) return points;
    if (!found.get().isArray() || found.get().size() < 2) {
      issue(CourseIssue.Kind.BAD_PROFILE, name, "two pairs of chainage and height or more");
      return points;
    }
    for (int i = 0; i < found.get().size(); i++) {
      JsonNode pair = found.get().get(i);
      String at = name + "/" + i;
      if (!pair.isArray()
          || pair.size() != 2
          || !pair.get(0).isNumber()
          || !pair.get(1).isNumber()) {
        issue(CourseIssue.Kind.BAD_PROFILE, at, shown(pair) + ": [chainage_m, height_m]");
        return List.of();
      }
      HeightPoint point = new HeightPoint(pair.get(0).doubleValue(), pair.get(1).doubleValue());
      if (i > 0 && !follows(points.get(i - 1), point)) {
        String why = ": chainage must grow, by more than the height changes";
        issue(CourseIssue.Kind.BAD_PROFILE, at, shown(pair) + why);
        return List.of();
      }
      points.add(point);
    }
    return points;
  }

  private static boolean follows(HeightPoint a, HeightPoint b) {
    double ds = b.chainageM() - a.chainageM();
    return ds > 0 && Math.abs(b.heightM() - a.heightM()) < ds;
  }

  /** A value of any kind as JSON text; becomes known by being asked for. */
  Optional<String> raw(String name) {
    return find(name).map(JsonNode::toString);
  }

  /** What was never asked for, by name as JSON text. */
  Map<String, String> unknown() {
    Map<String, String> rest = new TreeMap<>();
    node.properties()
        .forEach(
            e -> {
              if (!known.contains(e.getKey())) rest.put(e.getKey(), e.getValue().toString());
            });
    return rest;
  }

  static String shown(JsonNode value) {
    return IssueLog.shortened(value.toString());
  }
}
