package milewarden.format.text;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * Which column of a table is what, by its heading. Two columns that may both be the latitude, or a
 * distance whose heading names no unit, are doubtful: they are told and not used.
 */
final class Columns {
  /** What a column can be; names are in lower case, without blanks, points and underscores. */
  enum Role {
    LATITUDE("lat", "latitude", "latdeg", "latitudedeg", "positionlat", "gpslat", "gpslatitude"),
    LONGITUDE(
        "lon",
        "lng",
        "long",
        "longitude",
        "londeg",
        "longitudedeg",
        "positionlong",
        "gpslon",
        "gpslongitude"),
    LATITUDE_SIDE("n/s", "ns", "northsouth", "latitudehemisphere", "latdir"),
    LONGITUDE_SIDE("e/w", "ew", "eastwest", "longitudehemisphere", "londir"),
    DATE("date", "utcdate", "localdate", "day"),
    TIME(
        "time",
        "timestamp",
        "datetime",
        "dateandtime",
        "utc",
        "utctime",
        "timeutc",
        "localtime",
        "gpstime",
        "timeofday",
        "clock"),
    HEIGHT("ele", "elevation", "alt", "altitude", "height", "elev"),
    DISTANCE("dist", "distance", "cumulativedistance", "totaldistance", "odometer"),
    SPEED("speed", "velocity", "speedovergound", "sog"),
    CADENCE("cad", "cadence", "stepsperminute", "spm"),
    SEGMENT("segment", "seg", "trackseg", "segmentid", "segmentnumber");

    private final List<String> names;

    Role(String... names) {
      this.names = List.of(names);
    }
  }

  // Exact: NIST SP 811 appendix B (foot, mile); 1852 m to the knot's mile, Monaco (1929).
  private static final Map<String, Double> LENGTH_UNITS =
      Map.of(
          "m", 1.0, "metres", 1.0, "meters", 1.0, "metre", 1.0, "meter", 1.0, "km", 1000.0, "mi",
          1609.344, "miles", 1609.344, "ft", 0.3048, "feet", 0.3048);
  private static final Map<String, Double> SPEED_UNITS =
      Map.of(
          "m/s",
          1.0,
          "mps",
          1.0,
          "ms-1",
          1.0,
          "km/h",
          1000.0 / 3600,
          "kmh",
          1000.0 / 3600,
          "kph",
          1000.0 / 3600,
          "mph",
          1609.344 / 3600,
          "kn",
          1852.0 / 3600,
          "knots",
          1852.0 / 3600,
          "kt",
          1852.0 / 3600);

  private static final Pattern WITH_UNIT =
      Pattern.compile("\\s*(.*?)\\s*(?:[(\\[]\\s*(.*?)\\s*[)\\]])?\\s*");
  private static final Pattern TRAILING_UNIT =
      Pattern.compile(
          "(.+?)[\\s_.]+(m|km|mi|ft|metres|meters|miles|feet|m/s|mps|km/h|kmh|kph|mph|kn|knots)");
  private static final Pattern OFFSET = Pattern.compile("(?:utc|gmt)?\\s*([+-]\\d{2}:?\\d{2})");

  private static final int NONE = -1;

  // By the role's number: it is asked for several times a row.
  private final int[] index = new int[Role.values().length];
  private final double[] factors = new double[Role.values().length];
  private final List<String> doubtful = new ArrayList<>();
  private Optional<String> twice = Optional.empty();
  private final ColumnAnswers answers;
  private boolean speed;
  private boolean utc;
  private Optional<String> offset = Optional.empty();

  Columns(List<String> headings) {
    this(headings, ColumnAnswers.NONE);
  }

  Columns(List<String> headings, ColumnAnswers answers) {
    this.answers = answers;
    Arrays.fill(index, NONE);
    Arrays.fill(factors, 1);
    for (int i = 0; i < headings.size(); i++) column(i, headings.get(i));
  }

  static boolean isUnit(String text) {
    return LENGTH_UNITS.containsKey(text) || SPEED_UNITS.containsKey(text);
  }

  /** What can be said of a doubtful column with this heading. */
  static List<String> answers(String heading) {
    Columns alone = new Columns(List.of(heading));
    // By itself it is clear: it is the second of its kind.
    if (alone.doubtful.isEmpty()) return List.of(ColumnAnswers.USE, ColumnAnswers.SKIP);
    return alone.speed
        ? List.of("m/s", "km/h", "mph", "kn", ColumnAnswers.SKIP)
        : List.of("m", "km", "mi", "ft", ColumnAnswers.SKIP);
  }

  private void column(int i, String heading) {
    Optional<String> said = answers.at(i);
    if (said.isPresent() && said.get().equals(ColumnAnswers.SKIP)) return;
    Matcher m = WITH_UNIT.matcher(heading.toLowerCase(Locale.ROOT));
    if (!m.matches()) return;
    String name = m.group(1);
    String unit = m.group(2) == null ? "" : m.group(2);
    Optional<Role> role = role(name);
    Matcher trailing = TRAILING_UNIT.matcher(name);
    if (role.isEmpty() && unit.isEmpty() && trailing.matches()) {
      role = role(trailing.group(1));
      unit = trailing.group(2);
    }
    String found = said.filter(Columns::isUnit).orElse(unit);
    role.ifPresent(r -> take(r, i, heading.strip(), name, found));
  }

  private static Optional<Role> role(String name) {
    String bare = name.replaceAll("[\\s_.-]", "");
    return Stream.of(Role.values()).filter(r -> r.names.contains(bare)).findFirst();
  }

  private void take(Role role, int i, String heading, String name, String unit) {
    if (at(role) != NONE && !answers.at(i).equals(Optional.of(ColumnAnswers.USE))) {
      if (role == Role.LATITUDE || role == Role.LONGITUDE)
        twice = Optional.of(ColumnDoubt.subject(i, heading));
      else doubtful.add(ColumnDoubt.subject(i, heading));
      return;
    }
    switch (role) {
      case DISTANCE -> measured(role, i, heading, LENGTH_UNITS, unit);
      case SPEED -> measured(role, i, heading, SPEED_UNITS, unit);
      case HEIGHT -> measured(role, i, heading, LENGTH_UNITS, unit.isEmpty() ? "m" : unit);
      case TIME, DATE -> {
        index[role.ordinal()] = i;
        zone(name, unit);
      }
      default -> index[role.ordinal()] = i;
    }
  }

  private void measured(Role role, int i, String heading, Map<String, Double> units, String unit) {
    Double factor = units.get(unit.replace(" ", ""));
    if (factor == null) {
      doubtful.add(ColumnDoubt.subject(i, heading));
      speed |= role == Role.SPEED;
      return;
    }
    index[role.ordinal()] = i;
    factors[role.ordinal()] = factor;
  }

  private void zone(String name, String unit) {
    Matcher m = OFFSET.matcher(unit);
    if (m.matches()) offset = Optional.of(m.group(1));
    else if (name.contains("utc") || unit.equals("utc") || unit.equals("gmt")) utc = true;
  }

  /** Where the role's column is, or -1. */
  int at(Role role) {
    return index[role.ordinal()];
  }

  /** What a value of the column is to be multiplied with to be in metres or m/s. */
  double factor(Role role) {
    return factors[role.ordinal()];
  }

  boolean hasPlace() {
    return at(Role.LATITUDE) >= 0 && at(Role.LONGITUDE) >= 0;
  }

  /** A second latitude or longitude: the column's number and heading. */
  Optional<String> twice() {
    return twice;
  }

  /** Columns that may mean two things and are not used: their numbers and headings. */
  List<String> doubtful() {
    return doubtful;
  }

  /** Whether a heading says that the times are UTC. */
  boolean utc() {
    return utc;
  }

  /** What the local times of the file are ahead of UTC, where a heading says it. */
  Optional<String> offset() {
    return offset;
  }
}
