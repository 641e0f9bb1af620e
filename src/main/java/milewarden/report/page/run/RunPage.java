package milewarden.report.page.run;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.accuracy.Distances;
import milewarden.accuracy.Errors;
import milewarden.accuracy.PassMeasurement;
import milewarden.accuracy.RecordingQuality;
import milewarden.accuracy.TrackMeasurement;
import milewarden.accuracy.noise.Bracket;
import milewarden.accuracy.noise.OffsetStatistics;
import milewarden.course.ReferenceCourse;
import milewarden.report.Digits;
import milewarden.report.IssueWords;
import milewarden.report.RunnerWords;
import milewarden.report.Words;
import milewarden.report.page.Fact;
import milewarden.report.page.Links;
import milewarden.report.page.PageLink;
import milewarden.report.page.course.PlanChart;
import milewarden.report.pass.AscentWords;
import milewarden.report.pass.FingerprintWords;
import milewarden.report.pass.LadderWords;
import milewarden.report.pass.NoiseWords;
import milewarden.report.pass.RepairWords;

/**
 * Why is it off?
 *
 * @param figure the error
 * @param passes links to the other passes of the recording; empty where there is one
 * @param ladder empty for a run that is known by its shown distance alone
 */
public record RunPage(
    RunFacts facts,
    String sentence,
    String figure,
    String figureWords,
    List<PageLink> passes,
    List<Fact> distances,
    Optional<LadderPart> ladder,
    Optional<AlongPart> along,
    Optional<NoisePart> noise,
    List<Habit> habits,
    List<Fact> recording,
    List<String> findings,
    List<String> runner) {
  public RunPage {
    passes = List.copyOf(passes);
    distances = List.copyOf(distances);
    habits = List.copyOf(habits);
    recording = List.copyOf(recording);
    findings = List.copyOf(findings);
    runner = List.copyOf(runner);
  }

  /** The ladder and the sentence that it supports. */
  public record LadderPart(String heading, LadderChart chart, String sentence) {}

  /**
   * The errors of the positions, and whether they explain the wander.
   *
   * @param thinned wander of all fixes, of every 2nd and of every 4th; empty where not known
   */
  public record NoisePart(List<String> sentences, List<NoiseWords.Thinned> thinned) {
    public NoisePart {
      sentences = List.copyOf(sentences);
      thinned = List.copyOf(thinned);
    }
  }

  /** A habit that the positions give away, with what the evidence says of it. */
  public record Habit(String name, String presence, String figure, String sentence) {}

  /** The charts along the course, with captions; {@code speed} has no points without times. */
  public record AlongPart(
      AlongChart.Excess excess,
      String excessCaption,
      List<Fact> excessTable,
      AlongChart.Places places,
      AlongChart.Lines offset,
      String offsetCaption,
      List<Fact> offsetTable,
      AlongChart.Lines speed,
      String speedCaption,
      List<Fact> speedTable,
      PlanChart plan) {}

  /**
   * The page of a measured pass.
   *
   * @param track of which the pass named by the facts is shown, or the last where there is none
   */
  public static RunPage of(
      RunFacts facts, TrackMeasurement track, ReferenceCourse course, Digits digits) {
    int count = track.passes().size();
    PassMeasurement pass = track.passes().get(Math.min(count, Math.max(1, facts.pass())) - 1);
    double referenceM = pass.distances().referenceM();
    LadderChart ladder = LadderChart.of(pass, digits);
    LeadingError lead = LeadingError.of(pass, track.findings());
    return new RunPage(
        facts,
        lead.sentence(referenceM, digits),
        lead.figure(digits),
        lead.words(),
        passLinks(facts, count),
        distances(pass.distances(), pass.errors(), digits),
        Optional.of(
            new LadderPart(
                "From the reference to the distance " + ladder.endWords(),
                ladder,
                LadderWords.sentence(pass.ladder(), referenceM, digits))),
        Optional.of(along(pass, course, digits)),
        Optional.of(
            new NoisePart(
                NoiseWords.sentences(pass.offset(), pass.noise(), digits),
                NoiseWords.thinned(pass.noise(), digits))),
        habits(pass, digits),
        recording(track.recording(), pass, digits),
        track.findings().stream().map(f -> digits.lengthsIn(IssueWords.of(f).sentence())).toList(),
        lead.range().map(e -> RunnerWords.of(e, digits)).orElse(List.of()));
  }

  /** The page of a run that is known by its shown distance alone. */
  public static RunPage shownOnly(
      RunFacts facts, Errors errors, Distances distances, Digits digits) {
    return figuresOnly(
        facts,
        errors,
        distances,
        "No file came with this run: it is known by its shown distance alone, and counts.",
        digits);
  }

  /**
   * The page of a run of which nothing but its figures is known.
   *
   * @param why as a sentence
   */
  public static RunPage figuresOnly(
      RunFacts facts, Errors errors, Distances distances, String why, Digits digits) {
    LeadingError lead = LeadingError.of(errors);
    return new RunPage(
        facts,
        lead.sentence(distances.referenceM(), digits),
        lead.figure(digits),
        lead.words(),
        List.of(),
        distances(distances, errors, digits),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        List.of(),
        List.of(),
        List.of(why),
        lead.range().map(e -> RunnerWords.of(e, digits)).orElse(List.of()));
  }

  private static List<PageLink> passLinks(RunFacts facts, int passes) {
    if (passes < 2) return List.of();
    List<PageLink> links = new ArrayList<>();
    for (int i = 1; i <= passes; i++)
      links.add(new PageLink("pass " + i, Links.run(facts.id()) + "?pass=" + i, i == facts.pass()));
    return links;
  }

  private static List<Fact> distances(Distances d, Errors e, Digits digits) {
    List<Fact> lines = new ArrayList<>();
    lines.add(new Fact("reference", digits.ground(d.referenceM()), "measured on the ground"));
    if (d.shownAsReadM().isPresent())
      lines.add(
          new Fact(
              "shown",
              digits.ground(d.shownAsReadM()),
              e.shownPercent().map(digits::interval).orElse("as read")));
    if (d.recordedM().isPresent())
      lines.add(
          new Fact("recorded", digits.ground(d.recordedM()), fine(e.recordedPercent(), digits)));
    if (e.trackPercent().isPresent())
      lines.add(new Fact("track", digits.ground(d.trackM()), fine(e.trackPercent(), digits)));
    return lines;
  }

  private static String fine(OptionalDouble percent, Digits digits) {
    return percent.isPresent()
        ? digits.percent(percent.getAsDouble(), 2)
            + ", "
            + digits.perRoadUnit(percent.getAsDouble())
        : Digits.UNKNOWN;
  }

  private static AlongPart along(PassMeasurement pass, ReferenceCourse course, Digits digits) {
    List<AlongChart.Place> marks =
        course.marks().stream()
            .filter(m -> m.chainageM().isPresent())
            .map(m -> new AlongChart.Place(m.chainageM().getAsDouble(), m.name()))
            .toList();
    AlongChart.Excess excess = AlongChart.excess(pass, digits);
    return new AlongPart(
        excess,
        "Step length minus advance, for each "
            + digits.ground(10, 0)
            + " of the course. "
            + digits.count(pass.profile().chainageM().size())
            + " fixes are drawn.",
        kinds(pass, digits),
        AlongChart.places(pass, digits),
        AlongChart.offset(pass, marks, digits),
        "Right of the direction of travel is positive; "
            + digits.count(pass.profile().chainageM().size())
            + " fixes.",
        offsets(pass, digits),
        AlongChart.speed(pass, marks, digits),
        "Speed along the line between "
            + digits.count(pass.profile().chainageM().size())
            + " matched fixes.",
        AlongChart.speeds(pass, digits),
        PlanChart.of(course, List.of(pass.profile()), digits));
  }

  private static List<Fact> kinds(PassMeasurement pass, Digits digits) {
    return pass.excessByKind().stream()
        .map(
            k ->
                new Fact(
                    k.kind().name().toLowerCase(Locale.ROOT),
                    digits.change(k.excessM()),
                    digits.counted(k.steps(), "step") + ", " + digits.ground(k.lengthM())))
        .toList();
  }

  private static List<Habit> habits(PassMeasurement pass, Digits digits) {
    return pass.fingerprints().stream()
        .map(
            f ->
                new Habit(
                    FingerprintWords.name(f.kind()),
                    FingerprintWords.presence(f.presence()),
                    FingerprintWords.figure(f, digits),
                    FingerprintWords.sentence(f, digits)))
        .toList();
  }

  private static List<Fact> offsets(PassMeasurement pass, Digits digits) {
    var o = pass.offset();
    return List.of(
        new Fact(
            "mean",
            digits.change(o.meanM()),
            o.uncertainty().map(u -> "± " + digits.ground(u.meanM()) + "; ").orElse("")
                + "a constant shift: datum, lane or map error"),
        new Fact(
            "robust sigma",
            digits.ground(o.robustSigmaM()),
            o.uncertainty()
                .map(u -> "± " + digits.ground(u.robustSigmaM()) + "; few far fixes hardly move it")
                .orElse("few far fixes hardly move it")),
        new Fact(
            "root mean square",
            digits.ground(o.rmsM()),
            o.uncertainty().map(u -> "± " + digits.ground(u.rmsM())).orElse("")),
        new Fact(
            "median size",
            digits.ground(o.medianAbsM()),
            between(o.uncertainty().flatMap(OffsetStatistics.Uncertainty::medianAbs), digits)),
        new Fact(
            "95 % are within",
            digits.ground(o.p95AbsM()),
            between(o.uncertainty().flatMap(OffsetStatistics.Uncertainty::p95Abs), digits)),
        new Fact(
            "largest",
            digits.ground(o.maxAbsM()),
            "of this pass; a longer one may hold a larger one"));
  }

  /** The 95 % interval of a quantile; an end that so few independent fixes leave open is said. */
  private static String between(Optional<Bracket> bracket, Digits digits) {
    if (bracket.isEmpty()) return "";
    OptionalDouble low = bracket.get().lowM();
    OptionalDouble high = bracket.get().highM();
    if (low.isEmpty() && high.isEmpty()) return "too few independent fixes for an interval";
    if (low.isEmpty()) return "up to " + digits.ground(high);
    if (high.isEmpty()) return digits.ground(low) + " or more";
    return digits.ground(low) + " to " + digits.ground(high);
  }

  private static List<Fact> recording(RecordingQuality q, PassMeasurement pass, Digits digits) {
    List<Fact> lines = new ArrayList<>();
    lines.add(
        new Fact(
            "interval",
            q.medianIntervalS().isPresent()
                ? digits.seconds(q.medianIntervalS().getAsDouble())
                : Digits.UNKNOWN,
            "median"));
    lines.add(
        new Fact(
            "gaps", digits.count(q.gaps()), digits.percent(100 * q.gapShare()) + " of the length"));
    lines.add(
        new Fact(
            "pass",
            digits.counted(pass.laps(), "lap"),
            Words.of(pass.direction()) + ", " + Words.of(pass.bounds())));
    pass.ascent()
        .ifPresent(
            a ->
                lines.add(
                    new Fact(
                        "ascent",
                        digits.ground(a.trackM()),
                        (a.courseM().isPresent()
                                ? digits.ground(a.courseM()) + " by the course's profile; "
                                : "")
                            + AscentWords.counted(a, digits).toLowerCase(Locale.ROOT))));
    for (RepairWords.Row r : RepairWords.rows(q))
      lines.add(new Fact(r.what(), digits.count(r.count()), r.done()));
    return lines;
  }
}
