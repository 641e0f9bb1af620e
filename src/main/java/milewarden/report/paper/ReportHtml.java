package milewarden.report.paper;

import java.util.List;
import java.util.Locale;

/**
 * A report as one HTML file: its styles and drawings within it, no script, nothing to fetch. The
 * markup is well-formed XML, too.
 */
public final class ReportHtml {
  private ReportHtml() {}

  // The pages' light tokens: a report is paper, on the screen as in print.
  private static final String STYLE =
      """
      @page { margin: 18mm 16mm; }
      :root { color-scheme: light; }
      * { box-sizing: border-box; }
      body { margin: 0 auto; padding: 32px 24px 48px; max-width: 760px; background: #FBFAF7; color: #1D2433;
        font: 15px/1.5 system-ui, -apple-system, 'Segoe UI', Roboto, 'DejaVu Sans', sans-serif; font-variant-numeric: tabular-nums; }
      h1 { font-size: 24px; line-height: 1.3; margin: 0 0 8px; }
      h2 { font-size: 18px; margin: 32px 0 8px; padding-top: 12px; border-top: 1px solid #D9D6CD; break-after: avoid; }
      h3 { font-size: 15px; margin: 16px 0 8px; break-after: avoid; }
      p, li { max-width: 72ch; margin: 0 0 8px; overflow-wrap: anywhere; }
      .figure { font-size: 32px; line-height: 1.2; }
      .quiet, figcaption, dd .note { color: #5B6475; }
      figcaption, .small { font-size: 13px; }
      blockquote { margin: 16px 0; padding-left: 16px; border-left: 2px solid #0B6E69; white-space: pre-line; }
      figure { margin: 16px 0; break-inside: avoid; }
      svg { width: 100%; height: auto; display: block; margin: 8px 0; }
      svg text { font-size: 12px; fill: #1D2433; paint-order: stroke; stroke: #FBFAF7; stroke-width: 3px; stroke-opacity: 0.8; stroke-linejoin: round; }
      svg.narrow { display: none; }
      svg .axis { fill: #5B6475; }
      svg .tint { fill: #0B6E69; fill-opacity: 0.08; }
      svg .zero { stroke: #1D2433; stroke-width: 1; }
      svg .next { stroke: #0072B2; stroke-width: 1; }
      svg .interval { stroke: #0072B2; stroke-width: 4; }
      svg .mean { fill: #1D2433; stroke: #FBFAF7; stroke-width: 1; }
      svg .level { stroke: #5B6475; stroke-width: 1; stroke-dasharray: 2 2; }
      table { border-collapse: collapse; width: 100%; break-inside: avoid; }
      th, td { text-align: left; vertical-align: top; padding: 6px 12px 6px 0; border-top: 1px solid #D9D6CD; font-weight: 400; }
      thead th { color: #5B6475; font-size: 13px; border-top: 0; }
      dl { display: grid; grid-template-columns: minmax(120px, 200px) 1fr; gap: 4px 16px; margin: 8px 0; }
      dl.decided { grid-template-columns: repeat(3, 1fr); margin: 16px 0; border-bottom: 1px solid #D9D6CD; }
      dl.decided > div { border-top: 2px solid #1D2433; padding: 6px 0 8px; }
      dt { color: #5B6475; }
      dd { margin: 0; overflow-wrap: anywhere; }
      a { color: #0B6E69; }
      @media screen and (max-width: 560px) { svg.wide { display: none; } svg.narrow { display: block; max-width: 420px; } body { padding: 24px 16px; } thead { position: absolute; left: -9999px; } table, tbody, tr, th, td { display: block; } tr { border-top: 1px solid #D9D6CD; padding: 6px 0; } tbody th { font-weight: 600; } th, td { border: 0; padding: 2px 0; overflow-wrap: anywhere; } td { display: grid; grid-template-columns: 128px 1fr; } td::before { content: attr(data-label); color: #5B6475; font-size: 13px; } dl, dl.decided { grid-template-columns: 1fr; gap: 0; } dd { margin-bottom: 8px; } }
      @media print {
        body { background: none; padding: 0; max-width: none; font-size: 9.5pt; line-height: 1.4; }
        h1 { font-size: 16pt; } h2 { font-size: 12pt; margin-top: 16pt; padding-top: 8pt; } h3 { font-size: 10pt; margin: 8pt 0 4pt; }
        .figure { font-size: 22pt; } figcaption, .small { font-size: 8.5pt; }
        p, li { orphans: 3; widows: 3; margin-bottom: 5pt; max-width: 100ch; }
        p:has(+ figure), p:has(+ table), p:has(+ dl) { break-after: avoid; }
        dd, tr { break-inside: avoid; }
        dl { gap: 2pt 12pt; margin: 4pt 0; } dl.decided { gap: 12pt; margin: 8pt 0; }
        #figures, #limits, #cautions, #runner { break-inside: avoid; }
        #limits, #cautions, #runner { columns: 2; column-gap: 18pt; } #limits h2, #cautions h2, #runner h2 { column-span: all; }
        figure { margin: 8pt 0; } svg { max-height: 64mm; margin: 4pt 0; }
        svg, svg * { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
        a { color: inherit; }
      }
      """;

  /** The file's text. */
  public static String of(FirmwareReport report) {
    StringBuilder out = new StringBuilder();
    out.append("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n");
    out.append("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n");
    out.append("<title>" + Markup.of(report.title()) + "</title>\n");
    out.append("<style>\n" + STYLE + "</style>\n</head>\n<body>\n<header>\n");
    out.append("<h1>" + Markup.of(report.title()) + "</h1>\n");
    out.append("<p>" + Markup.of(report.standing()) + "</p>\n");
    out.append("<p><span class=\"figure\">" + Markup.of(report.figure()) + "</span> ");
    out.append("<span class=\"quiet\">" + Markup.of(report.figureWords()) + "</span></p>\n");
    // The first page stands alone: what was decided is on it, the rule further on.
    if (!report.words().isEmpty())
      out.append("<blockquote>" + Markup.of(report.words()) + "</blockquote>\n");
    report.sections().stream()
        .filter(s -> s.key().equals("decisions"))
        .flatMap(s -> s.table().stream())
        .forEach(t -> decided(out, t));
    report.sections().stream()
        .filter(s -> s.key().equals("figures"))
        .flatMap(s -> s.intervals().stream())
        .forEach(c -> intervals(out, c));
    out.append("</header>\n<main>\n");
    for (Section s : report.sections()) section(out, s, report);
    return out.append("</main>\n</body>\n</html>\n").toString();
  }

  private static void decided(StringBuilder out, Section.Table decisions) {
    out.append("<dl class=\"decided\">\n");
    for (List<String> row : decisions.rows())
      out.append("<div><dt>" + Markup.of("Good enough for " + row.get(0).toLowerCase(Locale.ROOT)))
          .append("?</dt><dd><strong>" + Markup.of(row.get(row.size() - 1)) + "</strong> ")
          .append(
              "<span class=\"note small\">limit " + Markup.of(row.get(1)) + "</span></dd></div>\n");
    out.append("</dl>\n");
  }

  private static void section(StringBuilder out, Section s, FirmwareReport report) {
    out.append("<section id=\"" + Markup.of(s.key()) + "\">\n");
    out.append("<h2>" + Markup.of(s.heading()) + "</h2>\n");
    for (String sentence : s.says()) out.append("<p>" + Markup.of(sentence) + "</p>\n");
    if (s.key().equals("recompute"))
      report
          .capsule()
          .ifPresent(
              address ->
                  out.append("<p><a href=\"" + Markup.of(address) + "\">The capsule</a></p>\n"));
    if (!s.facts().isEmpty()) facts(out, s.facts());
    s.table().ifPresent(t -> table(out, t));
    // The drawing of the figures stands on the first page.
    if (!s.key().equals("figures")) s.intervals().ifPresent(c -> intervals(out, c));
    s.ladder().ifPresent(l -> ladder(out, l));
    out.append("</section>\n");
  }

  private static void facts(StringBuilder out, List<Section.Fact> facts) {
    out.append("<dl>\n");
    for (Section.Fact f : facts) {
      out.append("<dt>" + Markup.of(f.name()) + "</dt><dd>" + Markup.of(f.value()));
      if (!f.note().isEmpty())
        out.append(" <span class=\"note small\">" + Markup.of(f.note()) + "</span>");
      out.append("</dd>\n");
    }
    out.append("</dl>\n");
  }

  private static void table(StringBuilder out, Section.Table t) {
    out.append("<table>\n<thead><tr>");
    for (String c : t.columns()) out.append("<th scope=\"col\">" + Markup.of(c) + "</th>");
    out.append("</tr></thead>\n<tbody>\n");
    for (List<String> row : t.rows()) {
      out.append("<tr><th scope=\"row\">" + Markup.of(row.get(0)) + "</th>");
      for (int i = 1; i < row.size(); i++)
        out.append("<td data-label=\"" + Markup.of(t.columns().get(i)) + "\">")
            .append(Markup.of(row.get(i)) + "</td>");
      out.append("</tr>\n");
    }
    out.append("</tbody>\n</table>\n");
  }

  private static void intervals(StringBuilder out, IntervalChart chart) {
    out.append("<figure>\n<h3>" + Markup.of(chart.heading()) + "</h3>\n");
    out.append(IntervalDrawing.of(chart));
    out.append("<figcaption>" + Markup.of(chart.caption()) + "</figcaption>\n</figure>\n");
  }

  private static void ladder(StringBuilder out, LadderSteps ladder) {
    out.append("<figure>\n<h3>" + Markup.of(ladder.heading()) + "</h3>\n");
    out.append(LadderDrawing.of(ladder));
    out.append("<figcaption>" + Markup.of(ladder.caption()) + "</figcaption>\n</figure>\n");
    out.append("<dl>\n");
    for (LadderSteps.Step s : ladder.steps())
      out.append("<dt>" + Markup.of(s.name()) + "</dt><dd>" + Markup.of(s.meaning()) + "</dd>\n");
    out.append("</dl>\n");
  }
}
