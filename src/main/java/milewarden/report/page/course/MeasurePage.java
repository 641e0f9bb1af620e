package milewarden.report.page.course;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.report.MeasuredWords;
import milewarden.report.Words;

/**
 * The field sheet of a measurement: form, result, and what it would change.
 *
 * @param course its name; empty where the sheet is for none yet
 * @param action the form's address
 * @param budget none where nothing is worked out yet
 * @param effects what would move with this version
 * @param keepable true where the result can become a version of the course
 * @param version of the course that would be replaced, whole
 */
public record MeasurePage(
    String sentence,
    String course,
    String courseLink,
    String action,
    List<Choice> methods,
    List<Field> fields,
    List<Group> groups,
    List<Field> path,
    String pathWhy,
    String factorWhy,
    List<BudgetTable> budget,
    List<String> problems,
    List<String> notices,
    List<String> effects,
    boolean keepable,
    String version,
    String author,
    String reason,
    List<String> cautions) {
  public MeasurePage {
    methods = List.copyOf(methods);
    fields = List.copyOf(fields);
    groups = List.copyOf(groups);
    path = List.copyOf(path);
    budget = List.copyOf(budget);
    problems = List.copyOf(problems);
    notices = List.copyOf(notices);
    effects = List.copyOf(effects);
    cautions = List.copyOf(cautions);
  }

  /** A method that has a sheet. */
  public record Choice(String code, String link, String label, boolean here) {}

  /** An item of the sheet. */
  public record Field(String name, String label, String value, String hint, boolean yesNo) {}

  /** Rows of readings of one kind. */
  public record Group(
      String key, String title, String hint, boolean counted, List<MeasureForm.Ride> rows) {
    public Group {
      rows = List.copyOf(rows);
    }
  }

  /** Methods with a sheet, in the order of the page. */
  private static final List<String> METHODS =
      List.of("wheel", "calibrated-bicycle", "steel-tape", "certificate");

  /** Where a measurement belongs to. */
  public record Subject(String course, String link, String action, String version) {}

  /** The page of a form; {@code tried} is what came of it. */
  public static MeasurePage of(Subject subject, MeasureForm form, Tried tried, Digits digits) {
    String method = METHODS.contains(form.method()) ? form.method() : METHODS.get(0);
    return new MeasurePage(
        tried.budget().isPresent()
            ? tried.budget().get().sentence()
            : "What was counted or taped, and how well is it known?",
        subject.course(),
        subject.link(),
        subject.action(),
        METHODS.stream()
            .map(m -> new Choice(m, subject.action() + "?method=" + m, name(m), m.equals(method)))
            .toList(),
        fields(method, form),
        groups(method, form),
        path(form),
        MeasuredWords.pathWhy(digits),
        MeasuredWords.FACTOR_WHY,
        tried.budget().stream().toList(),
        tried.problems(),
        tried.notices(),
        tried.effects(),
        tried.keepable(),
        subject.version(),
        form.value("author"),
        form.value("reason"),
        Words.CAUTIONS);
  }

  /** What came of the form. */
  public record Tried(
      Optional<BudgetTable> budget,
      List<String> problems,
      List<String> notices,
      List<String> effects,
      boolean keepable) {
    public static final Tried NOTHING =
        new Tried(Optional.empty(), List.of(), List.of(), List.of(), false);

    public Tried {
      problems = List.copyOf(problems);
      notices = List.copyOf(notices);
      effects = List.copyOf(effects);
    }
  }

  private static String name(String method) {
    return switch (method) {
      case "wheel" -> "Measuring wheel";
      case "calibrated-bicycle" -> "Calibrated bicycle";
      case "steel-tape" -> "Steel tape";
      default -> "A certificate's figure";
    };
  }

  private static List<Field> fields(String method, MeasureForm form) {
    List<Field> fields = new ArrayList<>();
    fields.add(field(form, "measured_on", "Measured on", "a date as 2026-05-12"));
    fields.add(field(form, "measured_by", "Measured by", ""));
    switch (method) {
      case "steel-tape" -> {
        fields.add(field(form, "tape_nominal_m", "Length marked on the tape, m", "30"));
        fields.add(
            field(form, "tape_certified_m", "Its true length by the certificate, m", "30.003"));
        fields.add(
            field(
                form,
                "tape_uncertainty_m",
                "Standard uncertainty of that, m",
                "left empty: 0.005 %"));
        fields.add(
            field(
                form,
                "certificate_temperature_c",
                "Temperature of the certificate, °C",
                "left empty: 20"));
        fields.add(
            field(
                form,
                "laying_uncertainty_m",
                "Laying it down once, m",
                "line, pull and sag; left empty: 0.003"));
        fields.add(
            field(form, "expansion_ppm", "Growth per °C, millionths", "left empty: 11.6, steel"));
      }
      case "certificate" -> {
        fields.add(field(form, "certified_m", "Figure of the certificate, m", "5000"));
        fields.add(
            new Field(
                "safety_factor",
                "Does the figure carry the factor 1.001?",
                form.value("safety_factor"),
                "the certificate or its measurer says so",
                true));
      }
      default -> {
        fields.add(
            field(
                form,
                "calibration_m",
                "Length of the calibration course, m",
                "300 or more, taped"));
        fields.add(
            field(
                form,
                "calibration_uncertainty_m",
                "Its standard uncertainty, m",
                "left empty: 0.01 %"));
        fields.add(
            field(
                form,
                "counter_digits",
                "Whole digits of the counter",
                "where it begins again at 0"));
        fields.add(field(form, "count_step", "Smallest step read, counts", "left empty: 1"));
        fields.add(
            field(
                form,
                "about_m",
                "Roughly how long the course is, m",
                "tells how often the counter began again"));
        fields.add(
            field(
                form,
                "expansion_ppm",
                "Growth per °C, millionths",
                method.equals("wheel") ? "left empty: 23, aluminium" : "left empty: 90, one tyre"));
      }
    }
    fields.add(
        field(form, "marks_m", "Nearness to each mark, m", "how near you stood; left empty: 0.05"));
    return fields;
  }

  private static Field field(MeasureForm form, String name, String label, String hint) {
    return new Field(name, label, form.value(name), hint, false);
  }

  private static List<Field> path(MeasureForm form) {
    return List.of(
        field(
            form,
            "path_offset_m",
            "How far to the side of the measured line feet keep, m",
            "half width; left empty: 0.15"),
        field(
            form,
            "net_turns",
            "How often the course turns round",
            "1 for a loop; 0 for out and back or a figure of eight"));
  }

  private static List<Group> groups(String method, MeasureForm form) {
    int four = MeasureForm.usualRows();
    return switch (method) {
      case "certificate" -> List.of(other(form));
      case "steel-tape" ->
          List.of(
              new Group(
                  "pass",
                  "Passes over the course",
                  "The length as it was read off, uncorrected, and the tape's temperature.",
                  false,
                  form.rows("pass", 2)),
              other(form));
      default ->
          List.of(
              new Group(
                  "before",
                  "Rides over the calibration course before",
                  "Four, in both directions.",
                  true,
                  form.rows("before", four)),
              new Group(
                  "pass",
                  "Passes over the course",
                  "One traversal or one lap each; two or more, in both directions.",
                  true,
                  form.rows("pass", 2)),
              new Group(
                  "after",
                  "Rides over the calibration course after",
                  "Four, within the hour.",
                  true,
                  form.rows("after", four)),
              other(form));
    };
  }

  private static Group other(MeasureForm form) {
    return new Group(
        "other",
        "Other contributions",
        "What you know beside this, with its standard uncertainty in metres.",
        false,
        form.rows("other", 1));
  }
}
