package milewarden.report.page.course;

import java.util.List;
import java.util.Locale;
import milewarden.course.LengthBudget;
import milewarden.course.LengthBudget.Term;
import milewarden.report.Digits;
import milewarden.report.MeasuredWords;
import milewarden.report.page.Fact;

/**
 * A measured length with its uncertainty, as figures, table and bars.
 *
 * @param sentence what dominates
 */
public record BudgetTable(
    String figure,
    String figureWords,
    String sentence,
    List<Fact> facts,
    List<Row> rows,
    List<String> warnings) {
  public BudgetTable {
    facts = List.copyOf(facts);
    rows = List.copyOf(rows);
    warnings = List.copyOf(warnings);
  }

  /** The length of the longest bar, in the drawing's units. */
  private static final double BAR = 160;

  /**
   * A contribution.
   *
   * @param width of its bar as a number of a drawing 160 wide
   * @param words what its bar says to those who don't see it
   */
  public record Row(
      String name,
      String amount,
      String percent,
      String share,
      String degrees,
      String basis,
      String width,
      boolean assumed,
      String words) {}

  public static BudgetTable of(LengthBudget b, Digits digits) {
    double expanded = b.expandedUncertaintyM();
    return new BudgetTable(
        digits.groundWithin(b.referenceM(), expanded),
        "expanded uncertainty at 95 %, "
            + digits.number(100 * expanded / b.referenceM(), 3)
            + "\u00a0% of the length",
        sentence(b, digits),
        facts(b, digits),
        b.terms().stream().map(t -> row(t, b, digits)).toList(),
        b.warnings().stream().map(w -> MeasuredWords.of(w).sentence()).toList());
  }

  private static String sentence(LengthBudget b, Digits digits) {
    return b.largest()
        .map(
            t ->
                "The largest contribution is "
                    + MeasuredWords.of(t)
                    + ": "
                    + digits.number(100 * b.share(t), 0)
                    + "\u00a0% of the variance.")
        .orElse("");
  }

  private static Row row(Term t, LengthBudget b, Digits digits) {
    double largest = b.largest().map(Term::standardM).orElse(1.0);
    double width = largest > 0 ? BAR * t.standardM() / largest : 0;
    String name = MeasuredWords.of(t);
    String amount = digits.ground(t.standardM(), 3);
    return new Row(
        name,
        amount,
        digits.number(100 * t.standardM() / b.referenceM(), 3) + "\u00a0%",
        digits.number(100 * b.share(t), 1) + "\u00a0%",
        digits.degreesOfFreedom(t.degreesOfFreedom()),
        MeasuredWords.basis(t),
        String.format(Locale.ROOT, "%.1f", width),
        t.assumed(),
        name + ", " + amount);
  }

  private static List<Fact> facts(LengthBudget b, Digits digits) {
    List<Fact> lines = new java.util.ArrayList<>();
    lines.add(line("length", digits.ground(b.lengthM(), 3), "along the slope"));
    b.safetyFactor()
        .ifPresent(
            f ->
                lines.add(
                    line(
                        "reference",
                        digits.ground(b.referenceM(), 3),
                        "the figure with its factor " + digits.number(f, 3))));
    lines.add(
        line(
            "standard uncertainty u",
            digits.ground(b.standardUncertaintyM(), 3),
            "root of the sum of squares"));
    lines.add(
        line(
            "degrees of freedom",
            digits.degreesOfFreedom(b.degreesOfFreedom()),
            "effective, Welch-Satterthwaite"));
    lines.add(line("coverage factor k", digits.number(b.coverageFactor(), 2), "for 95\u00a0%"));
    lines.add(
        line("expanded uncertainty U", digits.ground(b.expandedUncertaintyM(), 3), "k times u"));
    b.calibration().ifPresent(c -> calibration(c, lines, digits));
    if (b.safetyFactor().isEmpty())
      lines.add(
          line(
              "a certificate's figure",
              digits.ground(b.certifiableM(), 1),
              "1.001 taken off; for comparison only"));
    return lines;
  }

  private static void calibration(LengthBudget.Calibration c, List<Fact> lines, Digits digits) {
    String remark =
        c.changePercent().isPresent()
            ? digits.percent(c.changePercent().getAsDouble(), 3) + " from before to after"
            : "before; no rides after";
    lines.add(
        line(
            "counts per km",
            digits.number(c.usedPerKm(), 2),
            c.afterPerKm().isPresent()
                ? "mean of "
                    + digits.number(c.beforePerKm(), 2)
                    + " and "
                    + digits.number(c.afterPerKm().getAsDouble(), 2)
                    + ", "
                    + remark
                : remark));
  }

  private static Fact line(String name, String value, String remark) {
    return new Fact(name, value, remark);
  }
}
