package milewarden.report.paper;

import milewarden.report.paper.LadderSteps.Step;

/**
 * A {@link LadderSteps} as inline SVG: floating steps from the reference on, long hatched one way.
 */
final class LadderDrawing {
  private static final double LEFT = 130;
  private static final double RIGHT = 560;
  private static final double ROW = 28;
  private static final double BAR = 16;

  private LadderDrawing() {}

  static String of(LadderSteps ladder) {
    double low = 0;
    double high = 0;
    double sum = 0;
    for (Step s : ladder.steps()) {
      sum += s.metresPerKm();
      low = Math.min(low, sum);
      high = Math.max(high, sum);
    }
    double span = high - low > 0 ? high - low : 1;
    double bottom = ROW * ladder.steps().size() + 8;
    StringBuilder out = new StringBuilder();
    out.append("<svg role=\"img\" viewBox=\"0 0 680 " + Markup.at(bottom) + "\" ");
    out.append("aria-label=\"" + Markup.of(ladder.heading()) + "\">\n" + HATCHES);
    double zero = x(0, low, span);
    IntervalDrawing.line(out, "zero", zero, 0, zero, bottom);
    double at = 0;
    for (int i = 0; i < ladder.steps().size(); i++) {
      Step s = ladder.steps().get(i);
      double from = x(at, low, span);
      at += s.metresPerKm();
      step(out, s, from, x(at, low, span), 4 + ROW * i, i + 1 < ladder.steps().size());
    }
    return out.append("</svg>\n").toString();
  }

  // Okabe and Ito 2008: vermilion for long, blue for short; the hatch tells without colour.
  private static final String HATCHES =
      """
      <defs>
      <pattern id="long" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="6" height="6" fill="#D55E00"/><rect width="2" height="6" fill="#FFFFFF"/></pattern>
      <pattern id="short" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><rect width="6" height="6" fill="#0072B2"/><rect width="2" height="6" fill="#FFFFFF"/></pattern>
      </defs>
      """;

  private static void step(
      StringBuilder out, Step s, double from, double to, double top, boolean more) {
    IntervalDrawing.text(out, "name", "start", 0, top + 13, s.name());
    IntervalDrawing.text(out, "value", "end", 680, top + 13, s.words());
    String kind = s.metresPerKm() < 0 ? "short" : "long";
    out.append("<rect fill=\"url(#" + kind + ")\" x=\"" + Markup.at(Math.min(from, to)) + "\"");
    out.append(" y=\"" + Markup.at(top) + "\" height=\"" + Markup.at(BAR) + "\"");
    out.append(" width=\"" + Markup.at(Math.max(1, Math.abs(to - from))) + "\"/>\n");
    if (more) IntervalDrawing.line(out, "level", to, top, to, top + ROW + BAR);
  }

  private static double x(double metres, double low, double span) {
    return LEFT + (metres - low) / span * (RIGHT - LEFT);
  }
}
