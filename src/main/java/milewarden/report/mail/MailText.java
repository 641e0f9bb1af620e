package milewarden.report.mail;

import java.util.ArrayList;
import java.util.List;
import milewarden.report.Digits;
import milewarden.report.mail.DueMail.Around;
import milewarden.report.mail.DueMail.Line;
import milewarden.report.mail.DueMail.Part;
import milewarden.verdict.ReleaseFigures;

/** The plain text of an e-mail: as good as the HTML for who reads only this. */
final class MailText {
  static final String KEY = "Errors are in percent of the measured length; plus reads long.";
  static final String HANDLE = "Acknowledge or put off";
  private static final int WIDTH = 72;

  private MailText() {}

  static String of(List<Part> parts, Digits digits, Around around) {
    StringBuilder out = new StringBuilder();
    around.opening().ifPresent(words -> out.append(wrapped(words, "")).append("\n"));
    for (int i = 0; i < parts.size(); i++) {
      if (i > 0) out.append("\n").append("-".repeat(WIDTH)).append("\n\n");
      part(out, parts.get(i), digits);
    }
    around.link().ifPresent(l -> out.append("\nMore: ").append(l).append("\n"));
    around.handling().ifPresent(l -> out.append(HANDLE).append(": ").append(l).append("\n"));
    // RFC 3676, section 4.3: dash, dash, space begins what programs may fold away.
    out.append("\n-- \n").append(wrapped(KEY, "")).append(wrapped(around.foot(), ""));
    return out.toString();
  }

  private static void part(StringBuilder out, Part part, Digits digits) {
    out.append(wrapped(part.sentence(), ""));
    // Above the figures: who reads it on the way out must not have to look for it.
    out.append("\nWhat to do next\n");
    for (String each : part.advice()) out.append(wrapped("- " + each, "  "));
    table(out, part.lines(), digits);
    strips(out, part, digits);
  }

  private static void table(StringBuilder out, List<Line> lines, Digits digits) {
    if (lines.isEmpty()) return;
    out.append("\n");
    List<List<String>> columns = new ArrayList<>();
    columns.add(List.of("", "firmware", "mean error", "next run", "sessions"));
    for (Line line : lines)
      columns.add(
          List.of(
              line.role(),
              line.firmware(),
              mean(line, digits),
              nextRun(line, digits),
              sessions(line, digits)));
    boolean roles = lines.stream().anyMatch(l -> !l.role().isEmpty());
    for (int row = roles ? 0 : 1; row < columns.get(0).size(); row++) {
      StringBuilder text = new StringBuilder("  ");
      for (List<String> column : columns) {
        int width = column.stream().mapToInt(String::length).max().orElse(0);
        text.append(padded(column.get(row), width + 3));
      }
      out.append(text.toString().stripTrailing()).append("\n");
    }
  }

  static String mean(Line line, Digits digits) {
    return line.figures()
        .map(f -> digits.percentWithin(f.meanPercent(), uncertainty(f)))
        .orElse(Digits.NOT_TESTED);
  }

  static String nextRun(Line line, Digits digits) {
    if (line.figures().isEmpty()) return Digits.NOT_TESTED;
    return line.figures()
        .flatMap(ReleaseFigures::nextRun)
        .map(digits::interval)
        .orElse(Digits.UNKNOWN);
  }

  static String sessions(Line line, Digits digits) {
    return line.figures().map(f -> digits.count(f.sessions())).orElse("none");
  }

  private static double uncertainty(ReleaseFigures f) {
    return f.expandedUncertaintyPercent().orElse(Double.NaN);
  }

  /** One strip per release whose interval is known, all on one scale. */
  private static void strips(StringBuilder out, Part part, Digits digits) {
    List<String> strips = stripsOf(part);
    if (strips.isEmpty()) return;
    out.append("\n");
    for (String strip : strips) out.append("  ").append(strip).append("\n");
    out.append("  ").append(stripKey(part, digits)).append("\n");
  }

  static List<String> stripsOf(Part part) {
    List<Line> known = part.lines().stream().filter(MailText::hasInterval).toList();
    List<Double> all = new ArrayList<>();
    if (!Double.isNaN(part.limit())) all.add(part.limit());
    for (Line line : known) {
      all.add(low(line));
      all.add(high(line));
    }
    int scale = StripText.scale(all);
    int width = known.stream().mapToInt(l -> l.firmware().length()).max().orElse(0);
    double limit = Double.isNaN(part.limit()) ? scale : part.limit();
    return known.stream()
        .map(
            l ->
                padded(l.firmware(), width + 1)
                    + StripText.of(
                        low(l), l.figures().orElseThrow().meanPercent(), high(l), limit, scale))
        .toList();
  }

  static String stripKey(Part part, Digits digits) {
    String limit =
        Double.isNaN(part.limit())
            ? ""
            : "; | the limit, " + digits.bothSides(part.limit()).replace('\u00a0', ' ');
    return "+ mean, [ ] 95 % interval" + limit + "; scale in percent";
  }

  private static boolean hasInterval(Line line) {
    return line.figures().flatMap(ReleaseFigures::interval).isPresent();
  }

  private static double low(Line line) {
    return line.figures().flatMap(ReleaseFigures::interval).orElseThrow().low();
  }

  private static double high(Line line) {
    return line.figures().flatMap(ReleaseFigures::interval).orElseThrow().high();
  }

  private static String padded(String text, int width) {
    return text + " ".repeat(Math.max(0, width - text.length()));
  }

  /** Lines of at most 72 characters; following lines begin with {@code indent}. */
  static String wrapped(String text, String indent) {
    StringBuilder out = new StringBuilder();
    StringBuilder line = new StringBuilder();
    for (String word : text.split(" ", -1)) {
      if (line.length() > indent.length() && line.length() + 1 + word.length() > WIDTH) {
        out.append(line).append("\n");
        line.setLength(0);
        line.append(indent).append(word);
      } else {
        if (line.length() > 0) line.append(' ');
        line.append(word);
      }
    }
    return out.append(line).append("\n").toString();
  }
}
