package milewarden.report.page.model;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.LookWords;
import milewarden.report.SmoothingWords;
import milewarden.report.SpreadWords;
import milewarden.report.Status;
import milewarden.report.page.ConditionNames;
import milewarden.report.page.Fact;
import milewarden.report.page.Links;
import milewarden.report.page.ReleaseWords;
import milewarden.report.page.verdict.PlanPage;
import milewarden.verdict.Comparison;
import milewarden.verdict.Look;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.SmoothingChange;
import milewarden.verdict.place.DeviceDayCourse;
import milewarden.verdict.place.Origin;

/** How sure is it? Candidate against baseline. */
public record ComparisonPage(
    String model,
    String modelLink,
    String title,
    String sentence,
    Status outcome,
    String because,
    String figure,
    String figureWords,
    Forest forest,
    String caption,
    List<Fact> facts,
    List<SideRow> sides,
    List<LookRow> looks,
    String nextLook,
    List<String> cautions,
    Optional<ToldPart> told,
    List<OriginPart> origins,
    List<String> smoothing,
    Optional<PlanPage.PlanPart> plan) {
  public ComparisonPage {
    facts = List.copyOf(facts);
    sides = List.copyOf(sides);
    looks = List.copyOf(looks);
    cautions = List.copyOf(cautions);
    origins = List.copyOf(origins);
    smoothing = List.copyOf(smoothing);
  }

  /** Differences with their intervals, in points of percent. */
  public record Forest(double material, String materialWords, List<Row> rows) {
    public Forest {
      rows = List.copyOf(rows);
    }
  }

  /** A difference; without an interval where too few sessions. */
  public record Row(
      String name,
      boolean pooled,
      double difference,
      OptionalDouble low,
      OptionalDouble high,
      String figure,
      String basis,
      String words) {}

  /** The figures of one release from the sessions compared. */
  public record SideRow(
      String role, String version, String mean, String spread, String nextRun, String basis) {}

  /** A look that was taken. */
  public record LookRow(
      String number,
      String date,
      String difference,
      String p,
      String permutation,
      Status outcome) {}

  /**
   * The page of a comparison.
   *
   * @param told device, day or course; empty where no course is common
   * @param origins where the track's difference comes from, one per course
   * @param smoothing of the candidate against the release before; empty where nothing can be said
   * @param plan of the candidate's campaign; empty where none was made
   */
  public static ComparisonPage of(
      long modelId,
      String model,
      Comparison c,
      Optional<DeviceDayCourse> told,
      List<Origin> origins,
      Optional<SmoothingChange> smoothing,
      Optional<PlanPage.PlanPart> plan,
      Policy policy,
      Digits digits) {
    Forest forest =
        new Forest(
            policy.materialChangePercent(),
            "material change " + "±" + digits.pointsSize(policy.materialChangePercent()),
            forestRows(c, digits));
    return new ComparisonPage(
        model,
        Links.model(modelId),
        c.candidate() + " against " + c.baseline(),
        ModelSentence.found(c, digits),
        JudgedWords.of(c.outcome()),
        "because " + JudgedWords.of(c.because()),
        figure(c, digits),
        figureWords(c, digits),
        forest,
        "Candidate minus baseline, "
            + JudgedWords.of(c.against())
            + ", from "
            + JudgedWords.of(c.source().source())
            + "; bars are 95 % intervals; "
            + ComparisonWords.look(c)
            + ". The band is the material change.",
        facts(c, digits),
        c.sides().map(s -> sideRows(c, s, digits)).orElse(List.of()),
        c.looks().stream().map(l -> look(l, digits)).toList(),
        nextLook(c, digits),
        c.cautions().stream().map(JudgedWords::of).toList(),
        told.map(t -> ToldPart.of(t, c, digits)),
        OriginPart.of(origins, c, digits),
        smoothing.map(s -> SmoothingWords.told(s, digits)).orElse(List.of()),
        plan);
  }

  private static String figure(Comparison c, Digits digits) {
    return SpreadWords.times(c, digits)
        .or(() -> c.estimate().map(e -> digits.points(e.percent())))
        .orElse(Digits.UNKNOWN);
  }

  private static String figureWords(Comparison c, Digits digits) {
    if (SpreadWords.times(c, digits).isPresent())
      return "the spread between sessions"
          + SpreadWords.of(c, digits).map(s -> ", " + s).orElse("")
          + "; mean errors: "
          + ComparisonWords.change(c, digits);
    return c.estimate()
        .map(
            e ->
                "difference of the mean errors, 95 % interval "
                    + digits.pointsInterval(e.interval().low(), e.interval().high()))
        .orElse("no difference can be told yet");
  }

  private static List<Row> forestRows(Comparison c, Digits digits) {
    List<Row> rows = new ArrayList<>();
    ConditionNames names =
        ConditionNames.of(c.conditions().stream().map(Comparison.OfCondition::condition).toList());
    for (Comparison.OfCondition each : c.conditions())
      rows.add(
          row(
              names.of(each.condition()),
              false,
              each.candidateMeanPercent() - each.baselineMeanPercent(),
              each.estimate(),
              each.candidateSessions() + " against " + each.baselineSessions() + " sessions",
              digits));
    c.estimate()
        .ifPresent(
            e ->
                rows.add(
                    row(
                        "all conditions",
                        true,
                        e.percent(),
                        c.estimate(),
                        ComparisonWords.look(c),
                        digits)));
    return rows;
  }

  private static Row row(
      String name,
      boolean pooled,
      double means,
      Optional<Comparison.Estimate> e,
      String basis,
      Digits digits) {
    double difference = e.map(Comparison.Estimate::percent).orElse(means);
    String figure =
        e.map(i -> digits.pointsInterval(i.interval().low(), i.interval().high()))
            .orElse(digits.points(difference));
    return new Row(
        name,
        pooled,
        difference,
        e.map(i -> OptionalDouble.of(i.interval().low())).orElse(OptionalDouble.empty()),
        e.map(i -> OptionalDouble.of(i.interval().high())).orElse(OptionalDouble.empty()),
        figure,
        basis,
        name + "\n" + digits.points(difference, 2) + "\n" + figure + "\n" + basis);
  }

  private static List<Fact> facts(Comparison c, Digits digits) {
    List<Fact> lines = new ArrayList<>();
    c.estimate().ifPresent(e -> tests(lines, e, digits));
    lines.add(
        new Fact(
            "smallest change that would be found",
            c.minimumDetectableChangePercent().isPresent()
                ? digits.pointsSize(tenth(c.minimumDetectableChangePercent().getAsDouble()))
                : Digits.UNKNOWN,
            "at today's sessions"));
    lines.add(
        new Fact(
            "sessions still needed",
            c.sessionsNeeded().isPresent()
                ? digits.count(c.sessionsNeeded().getAsInt())
                : Digits.UNKNOWN,
            "to find the material change"));
    c.spread().ifPresent(s -> lines.add(spread(s, c, digits)));
    return lines;
  }

  private static void tests(List<Fact> lines, Comparison.Estimate e, Digits digits) {
    lines.add(new Fact("p", digits.probability(e.p()), "two-sided t test"));
    lines.add(
        new Fact(
            "permutation p",
            e.permutationP().isPresent()
                ? digits.probability(e.permutationP().getAsDouble())
                : "not at the first look",
            e.permutationP().isPresent()
                ? "share of all ways to deal the sessions"
                : "its smallest value there is above alpha"));
    if (e.welchP().isPresent())
      lines.add(
          new Fact(
              "Welch's p",
              digits.probability(e.welchP().getAsDouble()),
              "the spreads differ, so both tests must agree"));
    if (e.controlSlope().isPresent())
      lines.add(
          new Fact(
              "control's slope",
              digits.number(e.controlSlope().getAsDouble(), 2),
              "share of the control unit's error that is taken out"));
  }

  /** With what the test can find: so that silence is not read as an unchanged spread. */
  private static Fact spread(Comparison.Spread s, Comparison c, Digits digits) {
    String ratio =
        s.ratio().isPresent() ? digits.number(s.ratio().getAsDouble(), 2) : Digits.UNKNOWN;
    String held =
        "p "
            + digits.probability(s.p())
            + " against "
            + digits.probability(s.alpha())
            + ", Brown and Forsythe";
    return new Fact(
        "ratio of the spreads",
        ratio,
        held + c.sides().map(x -> ComparisonWords.spreadFound(x, s.alpha(), digits)).orElse(""));
  }

  private static double tenth(double x) {
    return Math.round(10 * x) / 10.0;
  }

  private static List<SideRow> sideRows(Comparison c, Comparison.Sides s, Digits digits) {
    return List.of(
        side("candidate", c.candidate(), s.candidate(), digits),
        side("baseline", c.baseline(), s.baseline(), digits));
  }

  private static SideRow side(String role, String version, ReleaseFigures f, Digits digits) {
    return new SideRow(
        role,
        version,
        ReleaseWords.mean(f, digits),
        ReleaseWords.spread(f, digits),
        f.nextRun().map(digits::interval).orElse("not known yet"),
        ReleaseWords.basis(f, digits));
  }

  private static LookRow look(Look l, Digits digits) {
    var e = l.estimate();
    return new LookRow(
        "look " + l.number() + " at " + digits.sessions(l.sessions()) + JudgedWords.again(l),
        digits.date(l.takenAt()),
        digits.points(e.percent())
            + " ("
            + digits.pointsInterval(e.interval().low(), e.interval().high())
            + ")",
        digits.probability(e.p()) + " against " + digits.probability(l.alpha()),
        e.permutationP().isPresent()
            ? digits.probability(e.permutationP().getAsDouble())
            : "not at this look",
        JudgedWords.of(l.outcome()));
  }

  private static String nextLook(Comparison c, Digits digits) {
    if (c.lookWaitsUntil().isPresent()) return LookWords.waits(c, digits);
    if (c.nextLookAt().isEmpty()) return "All looks are taken: the comparison is closed.";
    int left = Math.max(0, c.nextLookAt().getAsInt() - c.candidateSessions());
    return "The next look is at "
        + digits.sessions(c.nextLookAt().getAsInt())
        + " of "
        + c.candidate()
        + ", "
        + left
        + " more; until then the state holds.";
  }
}
