package milewarden.report.page.outing;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.ToDoubleFunction;
import milewarden.device.Carriage;
import milewarden.report.DamageWords;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.SettingsWords;
import milewarden.report.Status;
import milewarden.report.Words;
import milewarden.report.page.Links;
import milewarden.report.page.Option;
import milewarden.report.page.ReleaseWords;
import milewarden.report.page.Strip;
import milewarden.report.page.model.ModelPage;
import milewarden.verdict.Condition;
import milewarden.verdict.Conformity;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.headtohead.HeadToHead;
import milewarden.verdict.headtohead.HeadToHead.Difference;
import milewarden.verdict.headtohead.HeadToHead.Outing;
import milewarden.verdict.headtohead.HeadToHead.Pair;
import milewarden.verdict.headtohead.HeadToHead.Release;
import milewarden.verdict.headtohead.HeadToHead.Side;

/**
 * Models held against each other, for whoever writes of them.
 *
 * @param common the conditions that all have in common
 * @param caption what the drawing shows, and on how much
 * @param outings the drawing as a table
 * @param allSessions how many there are, where these are not all; else empty text
 * @param sessionsLink to all of them
 * @param cautions what must be said beside the figures
 * @param unread which models are missing as their record is damaged; empty text where none
 * @param json address of the same for programs
 */
public record HeadToHeadPage(
    String sentence,
    List<String> common,
    String caption,
    List<HeadToHeadChart.Outing> outings,
    String allSessions,
    String sessionsLink,
    List<Row> rows,
    List<PairRow> pairs,
    List<String> cautions,
    List<Chooser> choosers,
    String unread,
    String json) {
  public HeadToHeadPage {
    common = List.copyOf(common);
    outings = List.copyOf(outings);
    rows = List.copyOf(rows);
    pairs = List.copyOf(pairs);
    cautions = List.copyOf(cautions);
    choosers = List.copyOf(choosers);
  }

  /** A release on one line. */
  public record Row(
      String model,
      String link,
      String firmware,
      String mean,
      Optional<Strip> strip,
      String nextRun,
      List<ModelPage.Purpose> purposes,
      String basis,
      String reportLink) {
    public Row {
      purposes = List.copyOf(purposes);
    }
  }

  /**
   * Two releases on one line.
   *
   * @param means of both over the very sessions of the difference; empty text where these are those
   *     of the table above
   */
  public record PairRow(
      String pair,
      String together,
      String difference,
      String how,
      String means,
      String all,
      Status status) {}

  /** A list from which one release of a model is chosen. */
  public record Chooser(String model, List<Option> releases, String chosen) {
    public Chooser {
      releases = List.copyOf(releases);
    }
  }

  /**
   * The page.
   *
   * @param most so many sessions, the newest
   * @param sessionsLink to all of them
   */
  public static HeadToHeadPage of(
      HeadToHead head,
      int most,
      List<Chooser> choosers,
      String json,
      String sessionsLink,
      Policy policy,
      Digits digits) {
    List<String> sessions = HeadToHeadChart.sessions(head);
    double scale = Strip.scaleOf(head.sides().stream().flatMap(s -> s.figures().stream()).toList());
    List<Row> rows = new ArrayList<>();
    for (Side side : head.sides()) rows.add(row(side, policy, scale, digits));
    return new HeadToHeadPage(
        sentence(head, digits),
        head.common().stream().map(HeadToHeadPage::words).toList(),
        caption(head, sessions.size() > most ? most : 0, digits),
        head.common().isEmpty()
            ? List.of()
            : HeadToHeadChart.outings(head, HeadToHeadChart.newest(sessions, most), digits),
        sessions.size() > most ? digits.sessions(sessions.size()) : "",
        sessionsLink,
        rows,
        head.pairs().stream().map(p -> pair(p, head.pairs().size(), digits)).toList(),
        cautions(head, digits),
        choosers,
        "",
        json);
  }

  /** The same, without those whose judgement is damaged. */
  public HeadToHeadPage without(List<String> damaged) {
    return damaged.isEmpty()
        ? this
        : new HeadToHeadPage(
            sentence,
            common,
            caption,
            outings,
            allSessions,
            sessionsLink,
            rows,
            pairs,
            cautions,
            choosers,
            DamageWords.without(String.join(", ", damaged)),
            json);
  }

  private static final int MOST_NAMED = 3;

  /** Which models are left out of it, in words; empty text for none. */
  public String left() {
    List<String> left =
        choosers.stream().filter(c -> c.chosen().isEmpty()).map(Chooser::model).toList();
    if (left.isEmpty()) return "";
    String who = left.size() > MOST_NAMED ? left.size() + " models" : String.join(", ", left);
    return who
        + (left.size() == 1 ? " is left out; choose it" : " are left out; choose them")
        + " below.";
  }

  private static String sentence(HeadToHead head, Digits digits) {
    if (head.sides().size() < 2)
      return "Two models or more stand head to head once each has a tested release.";
    if (head.common().isEmpty())
      return "These releases have no course and condition in common: run them together once more.";
    long apart =
        head.pairs().stream()
            .filter(p -> p.best().filter(Difference::toldApart).isPresent())
            .count();
    String over =
        " in " + digits.counted(head.common().size(), "condition") + " that all have in common";
    String found =
        head.pairs().size() == 1
            ? apart == 1 ? "they can be told apart" : "they can't be told apart"
            : apart == 0
                ? "no two can be told apart"
                : digits.count(apart)
                    + " of "
                    + digits.count(head.pairs().size())
                    + " pairs can be told apart";
    return Words.capital(digits.counted(head.sides().size(), "model")) + over + ": " + found + ".";
  }

  /** Their names, as the columns of the table are headed. */
  public List<String> models() {
    return rows.stream().map(Row::model).toList();
  }

  /** True where there is something to draw. */
  public boolean drawn() {
    return rows.size() > 1 && !outings.isEmpty();
  }

  private static String caption(HeadToHead head, int newest, Digits digits) {
    return "Rings: one session each"
        + (newest > 0 ? ", the newest " + digits.count(newest) : "")
        + ", its mean over the common conditions; a line joins what was"
        + " carried in one session. Lozenge: mean with its 95 % interval; thin line: next run,"
        + " 95 %. Bands: limits of the purposes on the mean error. "
        + Words.capital(
            Words.list(
                head.sides().stream()
                    .map(s -> s.release().name() + " " + digits.sessions(s.sessions().size()))
                    .toList()))
        + ", from "
        + JudgedWords.of(head.source().source())
        + ".";
  }

  private static Row row(Side side, Policy policy, double scale, Digits digits) {
    Release r = side.release();
    Optional<ReleaseFigures> f = side.figures();
    String elsewhere =
        side.elsewhere() > 0
            ? "; " + digits.counted(side.elsewhere(), "session") + " elsewhere left out"
            : "";
    return new Row(
        r.name(),
        Links.model(r.model()),
        r.firmware(),
        f.map(x -> ReleaseWords.mean(x, digits)).orElse("nothing in common"),
        f.flatMap(x -> Strip.of(x, policy, scale, digits)),
        f.flatMap(ReleaseFigures::nextRun).map(digits::interval).orElse("not known yet"),
        side.conformity().stream().map(HeadToHeadPage::purpose).toList(),
        f.map(x -> ReleaseWords.basis(x, digits)).orElse("no session") + elsewhere,
        Links.report(r.model(), r.firmware()));
  }

  private static ModelPage.Purpose purpose(Conformity c) {
    return new ModelPage.Purpose(
        JudgedWords.purpose(c.purpose().code()), JudgedWords.of(c.decision()));
  }

  private static PairRow pair(Pair pair, int pairs, Digits digits) {
    Optional<Difference> best = pair.best();
    return new PairRow(
        pair.first().name() + " less " + pair.second().name(),
        digits.sessions(pair.together()),
        best.map(d -> points(d, digits)).orElse("not known yet"),
        best.isEmpty()
            ? "too few sessions"
            : pair.bySession()
                ? "carried together: session by session"
                : "from sessions of their own",
        means(pair, digits),
        best.map(d -> forAll(d, pairs, digits)).orElse(""),
        best.map(d -> d.toldApart() ? Status.watch("told apart") : Status.unknown("not told apart"))
            .orElse(Status.unknown("too few sessions")));
  }

  // Each model's own mean rests on more sessions than the two share: a reader would subtract those.
  private static String means(Pair pair, Digits digits) {
    Optional<Difference> best = pair.best();
    if (!pair.bySession() || best.isEmpty()) return "";
    double half = (best.get().interval().high() - best.get().interval().low()) / 2;
    int decimals = Digits.decimalsFor(half);
    return digits.percent(mean(pair.outings(), Outing::first), decimals)
        + " less "
        + digits.percent(mean(pair.outings(), Outing::second), decimals)
        + " in these "
        + digits.sessions(pair.together());
  }

  private static double mean(List<Outing> outings, ToDoubleFunction<Outing> of) {
    return outings.stream().mapToDouble(of).average().orElseThrow();
  }

  private static String points(Difference d, Digits digits) {
    double half = (d.interval().high() - d.interval().low()) / 2;
    return digits.points(d.points(), Digits.decimalsFor(half))
        + " ("
        + digits.pointsInterval(d.interval().low(), d.interval().high())
        + ")";
  }

  private static String forAll(Difference d, int pairs, Digits digits) {
    return pairs < 2
        ? ""
        : digits.pointsInterval(d.simultaneous().low(), d.simultaneous().high())
            + ", with all "
            + digits.count(pairs)
            + " pairs asked at once";
  }

  private static String words(Condition c) {
    String worn =
        c.carriage() == Carriage.SWING_LEFT ? "on a wrist, arm swinging" : Words.of(c.carriage());
    return Words.capital(Words.of(c.gait()))
        + " on "
        + c.course()
        + ", "
        + worn
        + (c.settings().isBlank() ? "" : " (" + SettingsWords.profile(c.settings()) + ")");
  }

  private static List<String> cautions(HeadToHead head, Digits digits) {
    List<String> all = new ArrayList<>();
    all.add("All are judged by " + JudgedWords.of(head.source().source()) + ".");
    if (head.pairs().size() > 1)
      all.add(
          digits.count(head.pairs().size())
              + " pairs are asked at once: among so many, one may differ by chance alone. A pair is"
              + " called told apart only where its interval at 1 − "
              + digits.number(0.05, 2)
              + "/"
              + digits.count(head.pairs().size())
              + " leaves zero out (Bonferroni), so that all of them hold together with 95 %.");
    if (head.pairs().stream()
        .anyMatch(p -> p.best().filter(d -> d.unitPercent().isEmpty()).isPresent()))
      all.add(
          "How much units of one model differ is not known: the differences hold for the units"
              + " tested, not for the models.");
    if (head.common().stream().anyMatch(c -> c.carriage() == Carriage.SWING_LEFT))
      all.add(
          "Left and right wrist are taken as one, as two devices are not worn in one place; only"
              + " ways that both went are held against each other.");
    all.add(
        "What can't be told apart is not proved to be alike: more sessions together may part them.");
    all.add(Words.SCOPE);
    return all;
  }
}
