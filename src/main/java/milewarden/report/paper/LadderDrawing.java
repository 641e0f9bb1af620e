package milewarden.report.paper;

import milewarden.report.paper.LadderSteps.Step;

/**
 * A {@link LadderSteps} as inline SVG: floating steps from the reference on, long hatched one way.
 */
final class LadderDrawing {
  private static final double BAR = 16;
  // Room for the names of the steps at the left, for their figures at the right.
  private static final double WORDS = 130;
  private static final double FIGURES = 120;

  private final LadderSteps ladder;
  private final DrawingSize size;
  private final double row;
  private final double left;
  private final double right;
  private double low;
  private double span = 1;
  private final StringBuilder out = new StringBuilder();

  private LadderDrawing(LadderSteps ladder, DrawingSize size) {
    this.ladder = ladder;
    this.size = size;
    // On a telephone a step stands below its words, and has the whole width.
    this.row = size.narrow() ? 44 : 28;
    this.left = size.narrow() ? 2 : WORDS;
    this.right = size.width() - (size.narrow() ? 2 : FIGURES);
  }

  /** For a sheet and for a telephone. */
  static String of(LadderSteps ladder) {
    return new LadderDrawing(ladder, DrawingSize.WIDE).drawn()
        + new LadderDrawing(ladder, DrawingSize.NARROW).drawn();
  }

  private String drawn() {
    double high = 0;
    double sum = 0;
    for (Step s : ladder.steps()) {
      sum += s.metresPerKm();
      low = Math.min(low, sum);
      high = Math.max(high, sum);
    }
    if (high - low > 0) span = high - low;
    double bottom = row * ladder.steps().size() + 8;
    out.append(size.open(bottom, ladder.heading())).append(HATCHES.replace("KIND", size.kind()));
    IntervalDrawing.line(out, "zero", x(0), 0, x(0), bottom);
    double at = 0;
    for (int i = 0; i < ladder.steps().size(); i++) {
      Step s = ladder.steps().get(i);
      double from = x(at);
      at += s.metresPerKm();
      step(s, from, x(at), 4 + row * i, i + 1 < ladder.steps().size());
    }
    return out.append("</svg>\n").toString();
  }

  // Okabe and Ito 2008: vermilion for long, blue for short; the hatch tells without colour.
  private static final String HATCHES =
      """
      <defs>
      <pattern id="long-KIND" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="6" height="6" fill="#D55E00"/><rect width="2" height="6" fill="#FFFFFF"/></pattern>
      <pattern id="short-KIND" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><rect width="6" height="6" fill="#0072B2"/><rect width="2" height="6" fill="#FFFFFF"/></pattern>
      </defs>
      """;

  private void step(Step s, double from, double to, double top, boolean more) {
    double bar = top + row - 28;
    out.append("<g><title>" + Markup.of(s.name() + ": " + s.words()) + "</title>\n");
    String kind = (s.metresPerKm() < 0 ? "short-" : "long-") + size.kind();
    out.append("<rect fill=\"url(#" + kind + ")\" x=\"" + Markup.at(Math.min(from, to)) + "\"");
    out.append(" y=\"" + Markup.at(bar) + "\" height=\"" + Markup.at(BAR) + "\"");
    out.append(" width=\"" + Markup.at(Math.max(1, Math.abs(to - from))) + "\"/>\n");
    if (more) IntervalDrawing.line(out, "level", to, bar, to, bar + row + BAR);
    IntervalDrawing.text(out, "name", "start", 0, top + 13, s.name());
    IntervalDrawing.text(out, "value", "end", size.width(), top + 13, s.words());
    out.append("</g>\n");
  }

  private double x(double metres) {
    return left + (metres - low) / span * (right - left);
  }
}
