package milewarden.report.paper;

import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import milewarden.report.paper.IntervalChart.Limit;
import milewarden.report.paper.IntervalChart.Line;

/** An {@link IntervalChart} as inline SVG, 680 wide, drawn without a script. */
final class IntervalDrawing {
  private static final double WIDTH = 680;
  private static final double MIDDLE = WIDTH / 2;
  // Half a label of the axis.
  private static final double MARGIN = 24;
  // The condition with its figures, its bar below: a condition's name may be long.
  private static final double ROW = 46;
  private static final double TOP = 8;
  private static final double AXIS = 40;

  private IntervalDrawing() {}

  static String of(IntervalChart chart) {
    double scale = scale(chart);
    double bottom = TOP + ROW * chart.lines().size();
    StringBuilder out = new StringBuilder();
    out.append("<svg role=\"img\" viewBox=\"0 0 680 " + Markup.at(bottom + AXIS) + "\" ");
    out.append("aria-label=\"" + Markup.of(chart.heading()) + "\">\n");
    // The widest limit first: nested tints darken towards zero.
    for (int i = chart.limitsPercent().size() - 1; i >= 0; i--)
      limit(out, chart.limitsPercent().get(i).percent(), scale, bottom);
    line(out, "zero", MIDDLE, TOP, MIDDLE, bottom);
    for (int i = 0; i < chart.lines().size(); i++)
      row(out, chart.lines().get(i), TOP + ROW * i, scale);
    for (int i = 0; i < chart.limitsPercent().size(); i++)
      ends(out, chart.limitsPercent().get(i), scale, bottom, i % 2 == 0 ? 16 : 32);
    text(out, "axis", "middle", MIDDLE, bottom + 16, "0");
    return out.append("</svg>\n").toString();
  }

  private static void limit(StringBuilder out, double percent, double scale, double bottom) {
    double left = x(-percent, scale);
    out.append("<rect class=\"tint\" x=\"" + Markup.at(left) + "\" y=\"" + Markup.at(TOP) + "\"");
    out.append(" width=\"" + Markup.at(x(percent, scale) - left) + "\"");
    out.append(" height=\"" + Markup.at(bottom - TOP) + "\"/>\n");
  }

  private static void ends(
      StringBuilder out, Limit limit, double scale, double bottom, double below) {
    text(out, "axis", "middle", x(-limit.percent(), scale), bottom + below, limit.low());
    text(out, "axis", "middle", x(limit.percent(), scale), bottom + below, limit.high());
  }

  private static void row(StringBuilder out, Line l, double top, double scale) {
    double y = top + 32;
    text(out, "name", "start", 0, top + 14, l.name());
    text(out, "value", "end", WIDTH, top + 14, l.words());
    if (l.nextLow().isPresent() && l.nextHigh().isPresent())
      line(out, "next", x(l.nextLow(), scale), y, x(l.nextHigh(), scale), y);
    if (l.low().isPresent() && l.high().isPresent())
      line(out, "interval", x(l.low(), scale), y, x(l.high(), scale), y);
    if (l.mean().isEmpty()) return;
    double x = x(l.mean(), scale);
    out.append("<path class=\"mean\" d=\"M" + Markup.at(x - 6) + " " + Markup.at(y));
    out.append("L" + Markup.at(x) + " " + Markup.at(y - 7));
    out.append("L" + Markup.at(x + 6) + " " + Markup.at(y));
    out.append("L" + Markup.at(x) + " " + Markup.at(y + 7) + "Z\"/>\n");
  }

  static void line(StringBuilder out, String kind, double x1, double y1, double x2, double y2) {
    out.append("<line class=\"" + kind + "\" x1=\"" + Markup.at(x1) + "\" y1=\"" + Markup.at(y1));
    out.append("\" x2=\"" + Markup.at(x2) + "\" y2=\"" + Markup.at(y2) + "\"/>\n");
  }

  static void text(
      StringBuilder out, String kind, String anchor, double x, double y, String words) {
    out.append("<text class=\"" + kind + "\" text-anchor=\"" + anchor + "\" x=\"" + Markup.at(x));
    out.append("\" y=\"" + Markup.at(y) + "\">" + Markup.of(words) + "</text>\n");
  }

  private static double scale(IntervalChart chart) {
    double lines =
        chart.lines().stream()
            .flatMap(
                l ->
                    java.util.stream.Stream.of(
                        l.mean(), l.low(), l.high(), l.nextLow(), l.nextHigh()))
            .flatMapToDouble(OptionalDouble::stream)
            .map(Math::abs)
            .max()
            .orElse(0);
    double limits =
        chart.limitsPercent().stream()
            .flatMapToDouble(l -> DoubleStream.of(l.percent()))
            .max()
            .orElse(0);
    double most = Math.max(lines, limits);
    return most > 0 ? most : 1;
  }

  private static double x(OptionalDouble percent, double scale) {
    return x(percent.orElseThrow(), scale);
  }

  private static double x(double percent, double scale) {
    return MIDDLE + percent / scale * (MIDDLE - MARGIN);
  }
}
