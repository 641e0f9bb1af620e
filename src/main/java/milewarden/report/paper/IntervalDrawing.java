package milewarden.report.paper;

import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import milewarden.report.paper.IntervalChart.Limit;
import milewarden.report.paper.IntervalChart.Line;

/** An {@link IntervalChart} as inline SVG, drawn without a script. */
final class IntervalDrawing {
  // Half a label of the axis.
  private static final double MARGIN = 24;
  private static final double LINE = 16;
  // Below the words: the bar.
  private static final double BAR = 30;
  private static final double TOP = 8;
  private static final double AXIS = 40;

  private final IntervalChart chart;
  private final DrawingSize size;
  private final double scale;
  private final StringBuilder out = new StringBuilder();

  private IntervalDrawing(IntervalChart chart, DrawingSize size) {
    this.chart = chart;
    this.size = size;
    this.scale = scale(chart);
  }

  /** For a sheet and for a telephone. */
  static String of(IntervalChart chart) {
    return new IntervalDrawing(chart, DrawingSize.WIDE).drawn()
        + new IntervalDrawing(chart, DrawingSize.NARROW).drawn();
  }

  private String drawn() {
    double bottom = TOP;
    for (Line l : chart.lines()) bottom += height(l);
    out.append(size.open(bottom + AXIS, chart.heading()));
    // The widest limit first: nested tints darken towards zero.
    for (int i = chart.limitsPercent().size() - 1; i >= 0; i--)
      limit(chart.limitsPercent().get(i).percent(), bottom);
    line(out, "zero", x(0), TOP, x(0), bottom);
    double top = TOP;
    for (Line l : chart.lines()) {
      row(l, top);
      top += height(l);
    }
    for (int i = 0; i < chart.limitsPercent().size(); i++)
      ends(chart.limitsPercent().get(i), bottom, i % 2 == 0 ? 16 : 32);
    text(out, "axis", "middle", x(0), bottom + 16, "0");
    return out.append("</svg>\n").toString();
  }

  private void limit(double percent, double bottom) {
    double left = x(-percent);
    out.append("<rect class=\"tint\" x=\"" + Markup.at(left) + "\" y=\"" + Markup.at(TOP) + "\"");
    out.append(" width=\"" + Markup.at(x(percent) - left) + "\"");
    out.append(" height=\"" + Markup.at(bottom - TOP) + "\"/>\n");
  }

  private void ends(Limit limit, double bottom, double below) {
    text(out, "axis", "middle", x(-limit.percent()), bottom + below, limit.low());
    text(out, "axis", "middle", x(limit.percent()), bottom + below, limit.high());
  }

  // On a sheet the figures stand beside the name, on a telephone below it.
  private double height(Line l) {
    int lines = size.lines(l.name()).size() + (size.narrow() ? 1 : 0);
    return LINE * lines + BAR;
  }

  private void row(Line l, double top) {
    out.append("<g><title>" + Markup.of(l.name() + ": " + l.words()) + "</title>\n");
    List<String> names = size.lines(l.name());
    for (int i = 0; i < names.size(); i++)
      text(out, "name", "start", 0, top + 14 + LINE * i, names.get(i));
    double words = top + 14 + (size.narrow() ? LINE * names.size() : 0);
    text(out, "value", "end", size.width(), words, l.words());
    double y = top + height(l) - 14;
    if (l.nextLow().isPresent() && l.nextHigh().isPresent())
      line(out, "next", x(l.nextLow()), y, x(l.nextHigh()), y);
    if (l.low().isPresent() && l.high().isPresent())
      line(out, "interval", x(l.low()), y, x(l.high()), y);
    if (l.mean().isPresent()) mean(x(l.mean()), y);
    out.append("</g>\n");
  }

  private void mean(double x, double y) {
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
            .flatMap(l -> Stream.of(l.mean(), l.low(), l.high(), l.nextLow(), l.nextHigh()))
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

  private double x(OptionalDouble percent) {
    return x(percent.orElseThrow());
  }

  private double x(double percent) {
    double middle = size.width() / 2;
    return middle + percent / scale * (middle - MARGIN);
  }
}
