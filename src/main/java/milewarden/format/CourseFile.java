package milewarden.format;

import com.fasterxml.jackson.core.JsonLocation;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import milewarden.course.CourseChange;
import milewarden.course.CourseIssue;
import milewarden.course.CourseNotice;
import milewarden.course.CourseRead;
import milewarden.course.CourseSlug;
import milewarden.course.Mark;
import milewarden.course.Method;
import milewarden.course.ReferenceCourse;
import milewarden.course.ReferenceCourse.HeightPoint;
import milewarden.course.SkyView;
import milewarden.format.fixes.IssueLog;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Position;

/**
 * The reference course file: GeoJSON (RFC 7946) with the properties of a measured course.
 *
 * <p>Needed: {@code slug, name, closed, measured_length_m, method, sky_view}. A missing {@code
 * standard_uncertainty_m} is taken as 0.1 % of the length and said. Everything wrong is reported at
 * once, each with its JSON pointer; a property that is not known is kept.
 */
public final class CourseFile {
  /**
   * What course measurers reach with a wheel or bicycle, as a share: common practice, no source.
   */
  static final double ASSUMED_UNCERTAINTY = 0.001;

  /** No course is longer: our own bound against a length in other units than metres. */
  private static final double LONGEST_M = 1_000_000;

  private final List<CourseIssue> issues = new ArrayList<>();
  private final List<CourseNotice> notices = new ArrayList<>();
  private final List<Mark> marks = new ArrayList<>();

  private CourseFile() {}

  /** Reads and checks a course; its version is the SHA-256 of these bytes. */
  public static CourseRead read(byte[] bytes) {
    return new CourseFile().course(bytes);
  }

  /** The file of a course, as {@link #read} takes it. */
  public static String write(ReferenceCourse course) {
    return CourseWriter.write(course);
  }

  private CourseRead course(byte[] bytes) {
    Optional<JsonNode> root = parse(bytes);
    Optional<ReferenceCourse> course =
        root.flatMap(this::features).flatMap(line -> build(line, Sha256.hex(bytes)));
    if (course.isEmpty() || !issues.isEmpty()) return new CourseRead.Refused(issues);
    new CourseCheck(course.get(), issues, notices).all();
    return issues.isEmpty()
        ? new CourseRead.Usable(course.get(), notices)
        : new CourseRead.Refused(issues);
  }

  private Optional<JsonNode> parse(byte[] bytes) {
    try {
      JsonNode root = JsonTree.read(bytes);
      if (root.isObject()) return Optional.of(root);
      add(CourseIssue.Kind.NOT_GEOJSON, "", root.isMissingNode() ? "the file is empty" : "");
    } catch (JsonProcessingException e) {
      JsonLocation at = e.getLocation();
      String place = at == null ? "" : "line " + at.getLineNr() + ", column " + at.getColumnNr();
      add(CourseIssue.Kind.NOT_JSON, place, IssueLog.shortened(e.getOriginalMessage()));
    } catch (IOException e) {
      // Bytes in memory fail to be read only where they are no text.
      add(CourseIssue.Kind.NOT_JSON, "", IssueLog.shortened(String.valueOf(e.getMessage())));
    }
    return Optional.empty();
  }

  private void add(CourseIssue.Kind kind, String place, String detail) {
    issues.add(
        new CourseIssue(kind, place.isEmpty() ? Optional.empty() : Optional.of(place), detail));
  }

  /** The one feature with the line, and where it stands. */
  private record LineFeature(JsonNode feature, String pointer) {}

  private Optional<LineFeature> features(JsonNode root) {
    String type = root.path("type").asText();
    if (type.equals("Feature")) return lineOf(List.of(new LineFeature(root, "")));
    if (!type.equals("FeatureCollection") || !root.path("features").isArray()) {
      add(CourseIssue.Kind.NOT_GEOJSON, "/type", "a FeatureCollection or a Feature is wanted");
      return Optional.empty();
    }
    List<LineFeature> all = new ArrayList<>();
    JsonNode features = root.path("features");
    for (int i = 0; i < features.size(); i++)
      all.add(new LineFeature(features.get(i), "/features/" + i));
    return lineOf(all);
  }

  private Optional<LineFeature> lineOf(List<LineFeature> features) {
    List<LineFeature> lines = new ArrayList<>();
    for (LineFeature f : features) {
      String type = f.feature.path("geometry").path("type").asText();
      if (type.equals("LineString")) lines.add(f);
      else if (type.equals("Point") && f.feature.path("properties").has("role")) mark(f);
      else notices.add(new CourseNotice(CourseNotice.Kind.UNUSED_FEATURE, f.pointer + " " + type));
    }
    if (lines.size() == 1) return Optional.of(lines.get(0));
    if (lines.isEmpty()) add(CourseIssue.Kind.NO_LINE, "", "one LineString is wanted");
    else add(CourseIssue.Kind.SEVERAL_LINES, lines.get(1).pointer, lines.size() + " LineStrings");
    return Optional.empty();
  }

  private void mark(LineFeature f) {
    String at = f.pointer + "/properties";
    CourseProperties given = new CourseProperties(f.feature.path("properties"), at, issues);
    Optional<Mark.Role> role = given.coded("role", CourseFile::role, "start, finish or control");
    Optional<Position> position =
        CourseGeometry.position(
            f.feature.path("geometry").path("coordinates"),
            f.pointer + "/geometry/coordinates",
            issues);
    if (role.isEmpty() || position.isEmpty()) return;
    marks.add(
        new Mark(
            role.get(),
            position.get(),
            given.number("chainage_m", 0, LONGEST_M),
            given.text("name").orElse("")));
  }

  private static Optional<Mark.Role> role(String text) {
    for (Mark.Role role : Mark.Role.values())
      if (role.name().equals(text.toUpperCase(Locale.ROOT))) return Optional.of(role);
    return Optional.empty();
  }

  private Optional<ReferenceCourse> build(LineFeature f, String version) {
    JsonNode properties = f.feature.path("properties");
    CourseProperties given =
        new CourseProperties(properties, f.pointer + "/properties", issues)
            .required("slug", "name", "closed", "measured_length_m", "method", "sky_view");
    Optional<Polyline> line =
        CourseGeometry.line(f.feature.path("geometry"), f.pointer + "/geometry", issues, notices);
    Optional<CourseSlug> slug =
        given.coded(
            "slug",
            t -> CourseSlug.isValid(t) ? Optional.of(new CourseSlug(t)) : Optional.empty(),
            "lower case letters, digits and dashes");
    Optional<String> name = given.text("name");
    Optional<Boolean> closed = given.bool("closed");
    double length = given.number("measured_length_m", 1, LONGEST_M).orElse(Double.NaN);
    Optional<Method> method =
        given.coded(
            "method", Method::of, "wheel, calibrated-bicycle, steel-tape, survey, standard-track");
    Optional<SkyView> sky = given.coded("sky_view", SkyView::of, "open, partly-open or obstructed");
    double uncertainty = uncertainty(given, length);
    OptionalDouble factor = given.number("safety_factor", 1, 1.01);
    List<HeightPoint> profile = given.profile("height_profile");
    OptionalDouble height = given.number("mean_height_m", -500, 9000);
    OptionalDouble corridor = given.number("corridor_m", 1, 1000);
    Optional<LocalDate> day = given.date("measured_on");
    String by = given.text("measured_by").orElse("");
    String surface = given.text("surface").orElse("");
    String notes = given.text("notes").orElse("");
    Optional<CourseChange> change = change(given);
    Map<String, String> others = others(given);
    if (!issues.isEmpty() || line.isEmpty()) return Optional.empty();
    return Optional.of(
        new ReferenceCourse(
            slug.orElseThrow(),
            version,
            name.orElseThrow(),
            closed.orElseThrow(),
            line.get(),
            marks,
            length,
            uncertainty,
            day,
            by,
            method.orElseThrow(),
            factor,
            height,
            profile,
            corridor,
            surface,
            sky.orElseThrow(),
            notes,
            others,
            change));
  }

  private static Optional<CourseChange> change(CourseProperties given) {
    String by = given.text("changed_by").orElse("");
    Optional<LocalDate> day = given.date("changed_on");
    Optional<String> why = given.text("changed_why").filter(w -> !w.isBlank());
    if (why.isEmpty() && day.isPresent()) given.missing("changed_why");
    if (why.isPresent() && day.isEmpty() && !given.has("changed_on")) given.missing("changed_on");
    return why.isPresent() && day.isPresent()
        ? Optional.of(new CourseChange(by, why.get(), day.get()))
        : Optional.empty();
  }

  private double uncertainty(CourseProperties given, double length) {
    if (given.has("standard_uncertainty_m"))
      return given.number("standard_uncertainty_m", 0, LONGEST_M).orElse(0);
    if (!Double.isNaN(length))
      notices.add(
          new CourseNotice(
              CourseNotice.Kind.UNCERTAINTY_ASSUMED,
              CourseCheck.metres(length * ASSUMED_UNCERTAINTY)));
    return length * ASSUMED_UNCERTAINTY;
  }

  private Map<String, String> others(CourseProperties given) {
    Map<String, String> others = new TreeMap<>();
    for (String raw : List.of(ReferenceCourse.FIELD_SHEET, ReferenceCourse.DRAFTED_FROM))
      given.raw(raw).ifPresent(json -> others.put(raw, json));
    given
        .unknown()
        .forEach(
            (name, value) -> {
              others.put(name, value);
              notices.add(new CourseNotice(CourseNotice.Kind.UNKNOWN_PROPERTY, name));
            });
    return others;
  }
}
