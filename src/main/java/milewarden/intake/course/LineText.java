package milewarden.intake.course;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.course.Mark;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.LocalPlane;
import milewarden.geodesy.Position;

/**
 * A line and its marks as text, one point a line.
 *
 * <p>A vertex is {@code latitude, longitude} in degrees, or {@code m east north}: metres from the
 * middle of the plan. A mark is {@code role, latitude, longitude, chainage, name}, the last two of
 * which may be missing; in place of latitude and longitude it takes metres, too: {@code control, m
 * east north, chainage, name}.
 *
 * @param positions of the line; of a closed course the last repeats the first
 * @param problems in sentences with their line
 */
record LineText(List<Position> positions, List<Mark> marks, List<String> problems) {
  private static final String NUMBER = "([+-]?\\d+(?:\\.\\d+)?)";
  private static final Pattern DEGREES = Pattern.compile(NUMBER + "\\s*[,;\\s]\\s*" + NUMBER);
  private static final Pattern METRES = Pattern.compile("m\\s+" + NUMBER + "\\s+" + NUMBER);

  /** More vertices than any course needs: our own bound against a mistake. */
  private static final int MOST = 20_000;

  /** So far from the plan's middle nothing is drawn by hand. */
  private static final double FARTHEST_M = 50_000;

  static LineText of(ReferenceCourse base, String vertices, String marks) {
    return new Reading(LocalPlane.at(base.line().middle())).read(base, vertices, marks);
  }

  private static final class Reading {
    private final LocalPlane plane;
    private final List<String> problems = new ArrayList<>();

    Reading(LocalPlane plane) {
      this.plane = plane;
    }

    LineText read(ReferenceCourse base, String vertices, String marks) {
      List<Position> positions = new ArrayList<>();
      int number = 0;
      for (String line : vertices.lines().toList()) {
        number++;
        if (line.isBlank()) continue;
        Optional<Position> p = position(line.strip());
        if (p.isEmpty())
          problem("Vertex", number, line, "Write latitude, longitude in degrees, or m east north.");
        else if (positions.isEmpty() || !positions.get(positions.size() - 1).equals(p.get()))
          positions.add(p.get());
      }
      if (positions.size() > MOST)
        problems.add("A line has " + MOST + " vertices at most; simplify it first.");
      int least = base.closed() ? 3 : 2;
      if (positions.size() < least && problems.isEmpty())
        problems.add("A line has " + least + " vertices or more; draw it along the whole course.");
      if (base.closed()
          && positions.size() >= least
          && !positions.get(0).equals(positions.get(positions.size() - 1)))
        positions.add(positions.get(0));
      return new LineText(positions, marks(marks), problems);
    }

    private void problem(String what, int line, String text, String remedy) {
      if (problems.size() >= 5) return;
      String shown = text.length() > 60 ? text.substring(0, 60) + "..." : text;
      problems.add(what + " on line " + line + " is not understood: " + shown + ". " + remedy);
    }

    private Optional<Position> position(String text) {
      Matcher m = METRES.matcher(text);
      if (m.matches()) {
        double east = Double.parseDouble(m.group(1));
        double north = Double.parseDouble(m.group(2));
        return Math.hypot(east, north) <= FARTHEST_M
            ? Optional.of(plane.position(east, north))
            : Optional.empty();
      }
      Matcher d = DEGREES.matcher(text);
      if (!d.matches()) return Optional.empty();
      double latitude = Double.parseDouble(d.group(1));
      double longitude = Double.parseDouble(d.group(2));
      return Math.abs(latitude) <= 90 && Math.abs(longitude) <= 180
          ? Optional.of(new Position(latitude, longitude))
          : Optional.empty();
    }

    private List<Mark> marks(String text) {
      List<Mark> marks = new ArrayList<>();
      int number = 0;
      for (String line : text.lines().toList()) {
        number++;
        if (line.isBlank()) continue;
        Optional<Mark> mark = mark(line.strip());
        if (mark.isPresent()) marks.add(mark.get());
        else
          problem(
              "Mark",
              number,
              line,
              "Write start, finish or control, then latitude, longitude, chainage in metres, name.");
      }
      return marks;
    }

    private Optional<Mark> mark(String line) {
      String[] cells = line.split("\\s*,\\s*", -1);
      Optional<Mark.Role> role = role(cells[0]);
      if (role.isEmpty() || cells.length < 2) return Optional.empty();
      boolean metres = METRES.matcher(cells[1]).matches();
      int next = metres ? 2 : 3;
      if (cells.length < next) return Optional.empty();
      Optional<Position> at = position(metres ? cells[1] : cells[1] + "," + cells[2]);
      if (at.isEmpty()) return Optional.empty();
      OptionalDouble chainage = OptionalDouble.empty();
      if (cells.length > next && !cells[next].isBlank()) {
        if (!cells[next].matches("\\d+(\\.\\d+)?")) return Optional.empty();
        chainage = OptionalDouble.of(Double.parseDouble(cells[next]));
      }
      String name =
          cells.length > next + 1
              ? String.join(", ", List.of(cells).subList(next + 1, cells.length))
              : "";
      return Optional.of(new Mark(role.get(), at.get(), chainage, name));
    }

    private static Optional<Mark.Role> role(String text) {
      for (Mark.Role role : Mark.Role.values())
        if (role.name().equals(text.toUpperCase(Locale.ROOT))) return Optional.of(role);
      return Optional.empty();
    }
  }
}
