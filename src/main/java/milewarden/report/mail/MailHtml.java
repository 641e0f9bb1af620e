package milewarden.report.mail;

import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.report.mail.DueMail.Around;
import milewarden.report.mail.DueMail.Line;
import milewarden.report.mail.DueMail.Part;

/**
 * The HTML of an e-mail: inline styles alone, one column, light, for programs that know little. The
 * colours are those of the pages.
 */
final class MailHtml {
  private static final String INK = "#1D2433";
  private static final String QUIET = "#5B6475";
  private static final String RULE = "#D9D6CD";
  private static final String PAPER = "#FBFAF7";
  private static final String ACCENT = "#0B6E69";
  private static final String TYPE =
      "font-family:system-ui,-apple-system,'Segoe UI',Roboto,'DejaVu Sans',sans-serif;font-size:15px;"
          + "line-height:1.5;color:"
          + INK;
  private static final String CELL =
      "padding:6px 10px 6px 0;border-top:1px solid "
          + RULE
          + ";text-align:left;vertical-align:top;font-variant-numeric:tabular-nums";
  private static final String HEAD =
      "padding:6px 10px 6px 0;text-align:left;font-weight:400;font-size:13px;color:" + QUIET;

  private MailHtml() {}

  static String of(List<Part> parts, Optional<String> picture, Digits digits, Around around) {
    StringBuilder out = new StringBuilder();
    out.append("<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">")
        .append("<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">")
        .append("<meta name=\"color-scheme\" content=\"light\"></head>\n")
        .append("<body style=\"margin:0;padding:0;background:" + PAPER + "\">\n")
        .append("<div style=\"max-width:640px;margin:0 auto;padding:24px 16px;" + TYPE + "\">\n");
    around
        .opening()
        .ifPresent(
            words ->
                out.append("<p style=\"margin:0 0 16px;color:" + QUIET + "\">")
                    .append(escaped(words))
                    .append("</p>\n"));
    for (int i = 0; i < parts.size(); i++) {
      part(out, parts.get(i), i == 0, digits);
      if (i == 0) picture.ifPresent(words -> picture(out, words));
    }
    around.link().ifPresent(l -> link(out, l, "See the figures and the evidence"));
    around.handling().ifPresent(l -> link(out, l, MailText.HANDLE));
    out.append("<p style=\"margin:24px 0 0;padding-top:12px;border-top:1px solid " + RULE + ";")
        .append("font-size:13px;color:" + QUIET + "\">")
        .append(escaped(MailText.KEY))
        .append("<br>")
        .append(escaped(around.foot()))
        .append("</p>\n</div>\n</body></html>\n");
    return out.toString();
  }

  private static void part(StringBuilder out, Part part, boolean first, Digits digits) {
    String style =
        first
            ? "font-size:18px;line-height:1.4;font-weight:600;margin:0 0 16px"
            : "font-size:15px;font-weight:600;margin:32px 0 12px;padding-top:16px;border-top:1px solid "
                + RULE;
    out.append("<p style=\"" + style + "\">").append(led(part.sentence())).append("</p>\n");
    next(out, part.advice());
    if (part.lines().isEmpty()) return;
    out.append("<table style=\"border-collapse:collapse;margin:0 0 12px;font-size:14px\"><tr>");
    for (String head : List.of("Firmware", "Mean error", "Next run", "Sessions"))
      out.append("<th scope=\"col\" style=\"" + HEAD + "\">").append(head).append("</th>");
    out.append("</tr>\n");
    for (Line line : part.lines()) row(out, line, digits);
    out.append("</table>\n");
    strips(out, part, digits);
  }

  private static void row(StringBuilder out, Line line, Digits digits) {
    out.append("<tr>");
    // Before and after stand over the release: a column of their own is too much for a telephone.
    out.append("<td style=\"" + CELL + "\">");
    if (!line.role().isEmpty())
      out.append("<span style=\"font-size:12px;color:" + QUIET + "\">")
          .append(escaped(line.role()))
          .append("</span><br>");
    out.append("<strong>").append(escaped(line.firmware())).append("</strong></td>");
    cell(out, MailText.mean(line, digits));
    cell(out, MailText.nextRun(line, digits));
    cell(out, MailText.sessions(line, digits));
    out.append("</tr>\n");
  }

  // What happened stands out; how it is known follows it in plain type.
  private static String led(String sentence) {
    int end = sentence.indexOf("; ") + 1;
    return end == 0
        ? escaped(sentence)
        : escaped(sentence.substring(0, end))
            + "<span style=\"font-weight:400\">"
            + escaped(sentence.substring(end))
            + "</span>";
  }

  private static void cell(StringBuilder out, String text) {
    out.append("<td style=\"" + CELL + "\">").append(escaped(text)).append("</td>");
  }

  private static void strips(StringBuilder out, Part part, Digits digits) {
    List<String> strips = MailText.stripsOf(part);
    if (strips.isEmpty()) return;
    out.append("<pre style=\"margin:0;font-family:ui-monospace,Menlo,Consolas,'DejaVu Sans Mono',")
        .append("monospace;font-size:11px;line-height:1.6;white-space:pre;overflow-x:auto\">");
    for (String strip : strips) out.append(escaped(strip)).append("\n");
    out.append("</pre>\n<p style=\"margin:0 0 16px;font-size:13px;color:" + QUIET + "\">")
        .append(escaped(MailText.stripKey(part, digits)))
        .append("</p>\n");
  }

  private static void picture(StringBuilder out, String words) {
    out.append("<p style=\"margin:24px 0 0;font-weight:600\">The error of each release</p>\n")
        .append(
            "<p style=\"margin:4px 0\"><img src=\"cid:" + DueMail.PICTURE_ID + "\" width=\"608\"")
        .append(" style=\"width:100%;max-width:608px;height:auto;border:0\" alt=\"")
        .append(escaped(words))
        .append("\"></p>\n<p style=\"margin:0 0 16px;font-size:13px;color:" + QUIET + "\">")
        .append(
            "Releases in order of date. Diamond: mean; thick bar: its 95 % interval; thin line:")
        .append(" where 95 % of single runs lie; green lines: the limit.</p>\n");
  }

  private static void next(StringBuilder out, List<String> advice) {
    out.append("<p style=\"margin:16px 0 4px;font-weight:600\">What to do next</p>\n")
        .append("<ul style=\"margin:0 0 16px;padding-left:20px\">\n");
    for (String each : advice) out.append("<li>").append(escaped(each)).append("</li>\n");
    out.append("</ul>\n");
  }

  private static void link(StringBuilder out, String link, String words) {
    out.append("<p style=\"margin:16px 0\"><a style=\"color:" + ACCENT + "\" href=\"")
        .append(escaped(link))
        .append("\">")
        .append(words)
        .append("</a></p>\n");
  }

  static String escaped(String text) {
    return text.replace("&", "&amp;")
        .replace("<", "&lt;")
        .replace(">", "&gt;")
        .replace("\"", "&quot;")
        .replace("'", "&#39;");
  }
}
