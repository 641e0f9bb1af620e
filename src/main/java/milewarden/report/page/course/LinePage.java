package milewarden.report.page.course;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import milewarden.course.LineCheck;
import milewarden.course.Mark;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.Position;
import milewarden.report.Digits;
import milewarden.report.Words;
import milewarden.report.page.Links;

/**
 * Drawing the line of a course: the plan with its vertices, and the same as text.
 *
 * @param vertices one a line
 * @param marks one a line
 * @param check how long the line is, and where it parts from what was measured
 * @param editor what the drawing needs
 */
public record LinePage(
    String course,
    String courseLink,
    String action,
    String version,
    String vertices,
    String marks,
    StretchRows check,
    Editor editor,
    List<String> problems,
    List<String> notices,
    List<String> effects,
    boolean keepable,
    String author,
    String reason,
    List<String> cautions) {
  public LinePage {
    problems = List.copyOf(problems);
    notices = List.copyOf(notices);
    effects = List.copyOf(effects);
    cautions = List.copyOf(cautions);
  }

  /**
   * The drawing's data.
   *
   * @param vertices in metres, x to the east and y to the north of the plan's middle; of a closed
   *     course the first is not repeated
   * @param texts how each stands in the form, in the same order
   * @param marks for orientation
   * @param wantedM length that the drawn line should have on the ellipsoid
   * @param refusedPercent beyond this the line is refused
   */
  public record Editor(
      List<List<Double>> vertices,
      List<String> texts,
      boolean closed,
      List<PlanChart.Nail> marks,
      double wantedM,
      double refusedPercent) {
    public Editor {
      vertices = List.copyOf(vertices);
      texts = List.copyOf(texts);
      marks = List.copyOf(marks);
    }
  }

  /** What was sent, and what came of it. */
  public record Tried(
      Optional<ReferenceCourse> next,
      String vertices,
      String marks,
      List<String> problems,
      List<String> notices,
      List<String> effects,
      String author,
      String reason) {
    public static final Tried NOTHING =
        new Tried(Optional.empty(), "", "", List.of(), List.of(), List.of(), "", "");

    public Tried {
      problems = List.copyOf(problems);
      notices = List.copyOf(notices);
      effects = List.copyOf(effects);
    }
  }

  /** The rule by which a course file is refused (the reference course's own check). */
  private static final double REFUSED_PERCENT = 0.5;

  public static LinePage of(ReferenceCourse base, Tried tried, Digits digits) {
    // The plan's middle stays that of the version in force: metres in the form are from there.
    ReferenceCourse shown = tried.next().orElse(base);
    boolean sent = !tried.vertices().isBlank();
    String link = Links.course(base.slug().text());
    return new LinePage(
        base.name(),
        link,
        link + "/line",
        base.version(),
        sent ? tried.vertices() : vertices(shown),
        sent ? tried.marks() : marks(shown),
        StretchRows.of(LineCheck.of(shown), digits),
        editor(base, shown, digits),
        tried.problems(),
        tried.notices(),
        tried.effects(),
        tried.next().isPresent(),
        tried.author(),
        tried.reason(),
        Words.CAUTIONS);
  }

  private static Editor editor(ReferenceCourse base, ReferenceCourse shown, Digits digits) {
    PlanChart plan = PlanChart.about(shown, base.line().middle(), digits);
    List<List<Double>> points = new ArrayList<>(plan.line());
    List<String> texts = new ArrayList<>();
    for (Position p : shown.line().positions()) texts.add(text(p));
    if (shown.closed()) {
      points.remove(points.size() - 1);
      texts.remove(texts.size() - 1);
    }
    return new Editor(
        points,
        texts,
        shown.closed(),
        plan.marks(),
        shown.horizontalM() / shown.groundFactor(),
        REFUSED_PERCENT);
  }

  private static String vertices(ReferenceCourse c) {
    List<Position> all = c.line().positions();
    List<Position> own = c.closed() ? all.subList(0, all.size() - 1) : all;
    return String.join("\n", own.stream().map(LinePage::text).toList());
  }

  private static String text(Position p) {
    // As many decimals as the file has, so that what nobody touched stays what it is.
    return plain(p.latitudeDeg()) + ", " + plain(p.longitudeDeg());
  }

  private static String plain(double degrees) {
    return new java.math.BigDecimal(Double.toString(degrees)).toPlainString();
  }

  private static String marks(ReferenceCourse c) {
    return String.join("\n", c.marks().stream().map(LinePage::text).toList());
  }

  private static String text(Mark m) {
    String role = m.role().name().toLowerCase(Locale.ROOT);
    String chainage = m.chainageM().isPresent() ? plain(m.chainageM().getAsDouble()) : "";
    return role
        + ", "
        + text(m.position())
        + ", "
        + chainage
        + (m.name().isBlank() ? "" : ", " + m.name());
  }
}
