package milewarden.report.mail;

import java.awt.BasicStroke;
import java.awt.Color;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.units.PercentRange;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.Threshold;
import org.knowm.xchart.AnnotationText;
import org.knowm.xchart.BitmapEncoder;
import org.knowm.xchart.BitmapEncoder.BitmapFormat;
import org.knowm.xchart.XYChart;
import org.knowm.xchart.XYChartBuilder;
import org.knowm.xchart.XYSeries;
import org.knowm.xchart.style.markers.SeriesMarkers;

/** The signed error of a model's releases in order, as a small picture for e-mails. */
final class ErrorPicture {
  private static final Color INK = new Color(0x1D2433);
  private static final Color QUIET = new Color(0x5B6475);
  private static final Color RULE = new Color(0xD9D6CD);
  private static final Color PAPER = new Color(0xFBFAF7);
  private static final Color LIMIT = new Color(0x0B6E69);
  // Okabe and Ito 2008, the first of the series.
  private static final Color BLUE = new Color(0x0072B2);
  // Twice the width at which it is shown, for fine screens.
  private static final int WIDTH = 1216;
  private static final int HEIGHT = 560;

  private ErrorPicture() {}

  /** A release with its figures; empty where not tested. */
  private record Column(String firmware, Optional<ReleaseFigures> figures) {}

  /** PNG; empty where no release was tested, or where this machine can't draw. */
  static Optional<byte[]> of(ModelJudgement judgement, Digits digits) {
    List<Column> columns = columns(judgement);
    if (columns.stream().noneMatch(c -> c.figures().isPresent())) return Optional.empty();
    try {
      return Optional.of(
          BitmapEncoder.getBitmapBytes(chart(columns, limit(judgement), digits), BitmapFormat.PNG));
    } catch (IOException | RuntimeException | InternalError | LinkageError e) {
      // A machine without fonts throws Errors of its own; the message goes without the picture.
      return Optional.empty();
    }
  }

  /** The picture in words, for who doesn't see it. */
  static String words(ModelJudgement judgement, Digits digits) {
    List<String> each =
        columns(judgement).stream()
            .map(
                c ->
                    c.firmware()
                        + ": "
                        + c.figures()
                            .map(f -> digits.percentWithin(f.meanPercent(), half(f)))
                            .orElse(Digits.NOT_TESTED))
            .toList();
    return "Mean error of "
        + judgement.model()
        + " by firmware, in order of date: "
        + String.join("; ", each)
        + ".";
  }

  private static List<Column> columns(ModelJudgement judgement) {
    return judgement.releases().stream()
        .map(r -> new Column(r.release().version(), r.pooled()))
        .toList();
  }

  private static double limit(ModelJudgement judgement) {
    List<ReleaseJudgement> releases = judgement.releases();
    for (int i = releases.size() - 1; i >= 0; i--) {
      Optional<Threshold> threshold = releases.get(i).threshold();
      if (threshold.isPresent()) return threshold.get().limitPercent();
    }
    return Double.NaN;
  }

  private static double half(ReleaseFigures f) {
    return f.interval().map(r -> (r.high() - r.low()) / 2).orElse(Double.NaN);
  }

  private static XYChart chart(List<Column> columns, double limit, Digits digits) {
    XYChart chart = new XYChartBuilder().width(WIDTH).height(HEIGHT).build();
    double scale = scale(columns, limit);
    style(chart, columns, scale, digits);
    flat(chart, "zero", 0, columns.size(), INK, 2);
    if (!Double.isNaN(limit)) {
      flat(chart, "limit above", limit, columns.size(), LIMIT, 2);
      flat(chart, "limit below", -limit, columns.size(), LIMIT, 2);
    }
    List<Double> x = new ArrayList<>();
    List<Double> y = new ArrayList<>();
    for (int i = 0; i < columns.size(); i++) {
      Optional<ReleaseFigures> figures = columns.get(i).figures();
      if (figures.isEmpty()) continue;
      x.add(i + 1.0);
      y.add(figures.get().meanPercent());
      bar(chart, i + 1, figures.get());
    }
    labels(chart, columns, scale, limit, digits);
    XYSeries means = chart.addSeries("mean", x, y);
    means.setXYSeriesRenderStyle(XYSeries.XYSeriesRenderStyle.Scatter);
    means.setMarker(SeriesMarkers.DIAMOND).setMarkerColor(BLUE);
    return chart;
  }

  /** Versions below, the limit's size at its line: the chart's own ticks fall between releases. */
  private static void labels(
      XYChart chart, List<Column> columns, double scale, double limit, Digits digits) {
    for (int i = 0; i < columns.size(); i++) {
      Column column = columns.get(i);
      chart.addAnnotation(text(column.firmware(), i + 1.0, -0.93 * scale));
      if (column.figures().isEmpty())
        chart.addAnnotation(text(Digits.NOT_TESTED, i + 1.0, 0.08 * scale));
    }
    if (!Double.isNaN(limit)) {
      double right = columns.size() + 0.36;
      chart.addAnnotation(text(digits.percent(limit), right, limit + 0.08 * scale));
      chart.addAnnotation(text(digits.percent(-limit), right, -limit - 0.08 * scale));
    }
  }

  private static AnnotationText text(String words, double x, double y) {
    return new AnnotationText(words, x, y, false);
  }

  private static void bar(XYChart chart, double x, ReleaseFigures figures) {
    figures.interval().ifPresent(r -> upright(chart, "interval " + x, x, r, 6));
    figures.nextRun().ifPresent(r -> upright(chart, "next run " + x, x, r, 2));
  }

  private static void upright(XYChart chart, String name, double x, PercentRange range, int width) {
    XYSeries bar =
        chart.addSeries(name, new double[] {x, x}, new double[] {range.low(), range.high()});
    bar.setMarker(SeriesMarkers.NONE).setLineColor(BLUE).setLineStyle(new BasicStroke(width));
  }

  private static void flat(
      XYChart chart, String name, double y, int releases, Color color, int width) {
    XYSeries line = chart.addSeries(name, new double[] {0.5, releases + 0.5}, new double[] {y, y});
    line.setMarker(SeriesMarkers.NONE).setLineColor(color).setLineStyle(new BasicStroke(width));
  }

  private static double scale(List<Column> columns, double limit) {
    double most = Double.isNaN(limit) ? 1 : limit;
    for (Column c : columns)
      for (PercentRange r : ranges(c)) most = Math.max(most, Math.max(-r.low(), r.high()));
    return most * 1.25;
  }

  private static List<PercentRange> ranges(Column column) {
    List<PercentRange> ranges = new ArrayList<>();
    column
        .figures()
        .ifPresent(
            f -> {
              ranges.add(PercentRange.exactly(f.meanPercent()));
              f.interval().ifPresent(ranges::add);
              f.nextRun().ifPresent(ranges::add);
            });
    return ranges;
  }

  private static void style(XYChart chart, List<Column> columns, double scale, Digits digits) {
    var styler = chart.getStyler();
    styler.setChartBackgroundColor(PAPER).setPlotBackgroundColor(PAPER).setLegendVisible(false);
    styler.setChartTitleVisible(false).setPlotBorderVisible(false).setChartFontColor(INK);
    styler.setBaseFont(styler.getBaseFont().deriveFont(26f)).setMarkerSize(22);
    styler.setXAxisTitleVisible(false).setYAxisTitleVisible(false);
    styler.setAxisTickLabelsFont(styler.getBaseFont().deriveFont(26f));
    styler.setAxisTickLabelsColor(QUIET).setPlotGridLinesColor(RULE);
    styler.setPlotGridVerticalLinesVisible(false);
    styler.setXAxisMin(0.5).setXAxisMax(columns.size() + 0.5);
    styler.setYAxisMin(-scale).setYAxisMax(scale);
    styler.setYAxisTickLabelsFormattingFunction(digits::percent);
    styler.setXAxisTicksVisible(false).setYAxisTickMarkSpacingHint(110);
    styler.setAnnotationTextFont(styler.getBaseFont()).setAnnotationTextFontColor(INK);
  }
}
