package milewarden.report.mail;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.report.AdviceWords;
import milewarden.report.Digits;
import milewarden.report.DueWords;
import milewarden.verdict.Comparison;
import milewarden.verdict.DueItem;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.Threshold;

/** The e-mail about what became due: finished words, ready to be stored and sent. */
public final class DueMail {
  /** Content-ID of the picture, as the HTML names it. */
  public static final String PICTURE_ID = "chart@milewarden";

  private final String subject;
  private final String text;
  private final String html;
  private final Optional<byte[]> png;

  private DueMail(String subject, String text, String html, Optional<byte[]> png) {
    this.subject = subject;
    this.text = text;
    this.html = html;
    this.png = png;
  }

  /** What became due of one model: at least one item, the most pressing first. */
  public record About(ModelJudgement judgement, List<DueItem> items) {
    public About {
      items = List.copyOf(items);
      if (items.isEmpty()) throw new IllegalArgumentException("nothing is due");
    }
  }

  /**
   * One release in the table of before and after.
   *
   * @param role {@code before} or {@code after}; empty where only one release stands
   * @param figures empty: not tested
   */
  record Line(String role, String firmware, Optional<ReleaseFigures> figures) {}

  /**
   * What the message says of one item.
   *
   * @param lines before and after; empty where the sentence before has them already
   * @param limit on the mean error that the strips carry, in percent; NaN where none is claimed
   */
  record Part(String sentence, List<Line> lines, double limit, List<String> advice) {}

  /** The message on one model's items. */
  public static DueMail of(About about, Digits digits, Optional<String> link) {
    return of(List.of(about), digits, link);
  }

  /**
   * One message on everything that a batch made due.
   *
   * @param abouts at least one, the most pressing first; the picture is of the first
   * @param link to the page that shows more; empty where no address is configured
   */
  public static DueMail of(List<About> abouts, Digits digits, Optional<String> link) {
    return of(
        abouts, new Occasion(Why.BECAME_DUE, Optional.empty(), 0, link, Optional.empty()), digits);
  }

  /** Why something is told. */
  public enum Why {
    BECAME_DUE,
    /** Put off until now, and still due. */
    STILL_DUE,
    DIGEST
  }

  /**
   * What a message is written for.
   *
   * @param day of the digest
   * @param closedMeanwhile became due and was closed again before the digest
   * @param link to the page that shows more; empty where no address is configured
   * @param handling to the page on which it is acknowledged or put off
   */
  public record Occasion(
      Why why,
      Optional<LocalDate> day,
      int closedMeanwhile,
      Optional<String> link,
      Optional<String> handling) {}

  /**
   * One message on several things that are due.
   *
   * @param abouts at least one, the most pressing first; the picture is of the first
   */
  public static DueMail of(List<About> abouts, Occasion occasion, Digits digits) {
    About first = abouts.get(0);
    int items = abouts.stream().mapToInt(a -> a.items().size()).sum();
    String title = DueWords.title(first.items().get(0), digits);
    List<Part> parts = new ArrayList<>();
    for (About about : abouts)
      for (DueItem item : about.items()) parts.add(part(item, about.judgement(), digits));
    parts = withoutRepeats(parts);
    Optional<byte[]> png = ErrorPicture.of(first.judgement(), digits);
    Around around =
        new Around(
            OccasionWords.opening(occasion, items, digits),
            occasion.link(),
            occasion.handling(),
            OccasionWords.foot(occasion.why()));
    return new DueMail(
        plain(OccasionWords.subject(occasion, title, items, digits)),
        plain(MailText.of(parts, digits, around)),
        MailHtml.of(parts, picture(png, first.judgement(), digits), digits, around),
        png);
  }

  /** What stands before and after the parts. */
  record Around(
      Optional<String> opening, Optional<String> link, Optional<String> handling, String foot) {}

  /** The same figures under the next sentence would only make a reader look for a difference. */
  private static List<Part> withoutRepeats(List<Part> parts) {
    List<Part> once = new ArrayList<>();
    List<Line> told = List.of();
    for (Part part : parts) {
      boolean repeats = part.lines().equals(told);
      told = part.lines();
      once.add(repeats ? new Part(part.sentence(), List.of(), part.limit(), part.advice()) : part);
    }
    return once;
  }

  private static Optional<String> picture(
      Optional<byte[]> png, ModelJudgement judgement, Digits digits) {
    return png.map(bytes -> ErrorPicture.words(judgement, digits));
  }

  private static Part part(DueItem item, ModelJudgement judgement, Digits digits) {
    Optional<String> other =
        item.facts().otherFirmware().or(judgement::anchor).filter(f -> !f.equals(item.firmware()));
    List<Line> lines = new ArrayList<>();
    other.ifPresent(f -> lines.add(new Line("before", f, figures(item, f, true, judgement))));
    String role = other.isPresent() ? "after" : "";
    lines.add(new Line(role, item.firmware(), figures(item, item.firmware(), false, judgement)));
    double limit =
        item.facts()
            .limitPercent()
            .orElseGet(
                () ->
                    limitOf(item.firmware(), judgement)
                        .or(() -> other.flatMap(f -> limitOf(f, judgement)))
                        .orElse(Double.NaN));
    return new Part(DueWords.sentence(item, digits), lines, limit, AdviceWords.of(item, digits));
  }

  private static Optional<Double> limitOf(String firmware, ModelJudgement judgement) {
    return judgement
        .release(firmware)
        .flatMap(ReleaseJudgement::threshold)
        .map(Threshold::limitPercent);
  }

  /** Figures of the comparison that the item tells of, else of the whole release. */
  private static Optional<ReleaseFigures> figures(
      DueItem item, String firmware, boolean before, ModelJudgement judgement) {
    Optional<Comparison.Sides> sides =
        judgement.comparisons().stream()
            .filter(c -> c.candidate().equals(item.firmware()))
            .filter(c -> item.facts().otherFirmware().map(c.baseline()::equals).orElse(false))
            .findFirst()
            .flatMap(Comparison::sides);
    return sides
        .map(s -> before ? s.baseline() : s.candidate())
        .or(() -> judgement.release(firmware).flatMap(r -> r.decidedOn().or(r::pooled)));
  }

  /** Plain text carries no spaces that programs show as odd characters. */
  private static String plain(String text) {
    return text.replace('\u00a0', ' ');
  }

  /** Model, firmware, what changed, by how much, on how many sessions. */
  public String subject() {
    return subject;
  }

  public String text() {
    return text;
  }

  /** With the picture as {@code cid:} of {@link #PICTURE_ID}, where there is one. */
  public String html() {
    return html;
  }

  /** The chart of signed errors over the releases; empty where it could not be drawn. */
  public Optional<byte[]> png() {
    return png.map(byte[]::clone);
  }
}
