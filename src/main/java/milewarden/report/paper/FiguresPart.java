package milewarden.report.paper;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.accuracy.LadderStep;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.Words;
import milewarden.report.page.ConditionNames;
import milewarden.report.page.ReleaseWords;
import milewarden.report.paper.Section.Fact;
import milewarden.report.pass.LadderWords;
import milewarden.units.UnitChoice;
import milewarden.verdict.Conformity;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.place.MeanLadder;

/** The figures, drawn and decided on. */
final class FiguresPart {
  private static final double METRES_PER_KM = 1000;

  private FiguresPart() {}

  static Section figures(ReleaseFigures f, List<ReleaseFigures> each, Policy rule, Digits digits) {
    List<Fact> facts =
        List.of(
            new Fact("mean error", ReleaseWords.mean(f, digits), ReleaseWords.basis(f, digits)),
            new Fact(
                "95 % interval of the mean",
                f.interval().map(digits::interval).orElse("not known yet"),
                "sessions, units and the course's length in it"),
            new Fact(
                "next run",
                f.nextRun().map(digits::interval).orElse("not known yet"),
                "95 % prediction interval of one pass"),
            new Fact(
                "spread between sessions", ReleaseWords.spread(f, digits), "standard deviation"),
            new Fact(
                "uncertainty of the reference",
                digits.limit(Math.round(1000 * f.referenceStandardUncertaintyPercent()) / 1000.0),
                "standard uncertainty, common to all runs on a course"));
    List<IntervalChart.Line> lines = new ArrayList<>();
    lines.add(line("all conditions", Optional.of(f), digits));
    ConditionNames names =
        ConditionNames.of(each.stream().flatMap(of -> of.condition().stream()).toList());
    for (ReleaseFigures of : each)
      lines.add(line(of.condition().map(names::of).orElse("all"), Optional.of(of), digits));
    String note =
        f.oppositeSigns()
            ? "The conditions' mean errors differ in sign: the pooled mean hides that."
            : "";
    return Section.of("figures", "The figures", note.isEmpty() ? List.of() : List.of(note))
        .facts(facts)
        .drawing(
            new IntervalChart(
                "Mean error, all together and by condition",
                caption(rule, digits) + " From " + ReleaseWords.basis(f, digits) + ".",
                limits(rule, digits),
                lines));
  }

  static Section releases(ModelJudgement judged, Policy rule, Digits digits) {
    List<IntervalChart.Line> lines =
        judged.releases().stream()
            .map(
                r ->
                    line(
                        r.release().version() + ", " + digits.date(r.release().date()),
                        r.pooled(),
                        digits))
            .toList();
    long sessions = judged.releases().stream().mapToLong(r -> r.sessions().size()).sum();
    return Section.of("releases", "The releases before and after", List.of())
        .drawing(
            new IntervalChart(
                "Mean error of each release of " + judged.model() + ", oldest first",
                caption(rule, digits)
                    + " As judged on "
                    + digits.date(judged.judgedAt())
                    + " from "
                    + digits.counted(sessions, "session")
                    + ".",
                limits(rule, digits),
                lines));
  }

  private static String caption(Policy rule, Digits digits) {
    List<String> limits =
        sorted(rule).stream()
            .map(p -> JudgedWords.purpose(p.code()) + " " + digits.bothSides(p.meanLimitPercent()))
            .toList();
    return "Lozenge: mean error; bar: its 95 % interval; thin line: next run, 95 %. Tints: limits"
        + " on the mean error for "
        + Words.list(limits)
        + ".";
  }

  private static List<Policy.Purpose> sorted(Policy rule) {
    return rule.purposes().stream()
        .sorted(Comparator.comparingDouble(Policy.Purpose::meanLimitPercent))
        .toList();
  }

  private static List<IntervalChart.Limit> limits(Policy rule, Digits digits) {
    return sorted(rule).stream()
        .map(
            p ->
                new IntervalChart.Limit(
                    JudgedWords.purpose(p.code()),
                    p.meanLimitPercent(),
                    digits.percent(-p.meanLimitPercent()),
                    digits.percent(p.meanLimitPercent())))
        .toList();
  }

  private static IntervalChart.Line line(
      String name, Optional<ReleaseFigures> figures, Digits digits) {
    var interval = figures.flatMap(ReleaseFigures::interval);
    var next = figures.flatMap(ReleaseFigures::nextRun);
    return new IntervalChart.Line(
        name,
        figures.map(f -> OptionalDouble.of(f.meanPercent())).orElse(OptionalDouble.empty()),
        Numbers.low(interval),
        Numbers.high(interval),
        Numbers.low(next),
        Numbers.high(next),
        figures
            .map(f -> ReleaseWords.mean(f, digits) + ", " + digits.sessions(f.sessions()))
            .orElse(Digits.NOT_TESTED));
  }

  static Section decisions(List<Conformity> decisions, Policy rule, Digits digits) {
    List<List<String>> rows = new ArrayList<>();
    for (Conformity c : decisions)
      rows.add(
          List.of(
              Words.capital(JudgedWords.purpose(c.purpose().code())),
              digits.bothSides(c.purpose().meanLimitPercent()),
              JudgedWords.of(c.mean()).word(),
              digits.bothSides(c.purpose().nextRunLimitPercent()),
              JudgedWords.of(c.nextRun()).word(),
              JudgedWords.of(c.decision()).word() + (c.provisional() ? ", provisional" : "")));
    return Section.of(
            "decisions",
            "Good enough for what, and by which rule",
            List.of(
                "Mean error, with a guard band of its expanded uncertainty (ILAC-G8:09/2019, JCGM"
                    + " 106:2012): pass where it stays within the limit with the band to spare,"
                    + " fail where it is beyond the limit by more than the band, conditional"
                    + " between.",
                "Next run: pass where its whole 95 % interval lies within the limit, fail where the"
                    + " mean itself lies beyond it, conditional fail between.",
                "The worse of the two is the decision. With fewer than "
                    + digits.sessions(rule.insufficientSessions())
                    + " nothing is decided; with fewer than "
                    + digits.sessions(rule.provisionalSessions())
                    + ", "
                    + digits.counted(rule.provisionalDays(), "day")
                    + " or "
                    + digits.counted(rule.provisionalUnits(), "unit")
                    + " it is provisional."))
        .table(
            List.of(
                "Purpose",
                "Limit, mean error",
                "Mean error",
                "Limit, next run",
                "Next run",
                "Decision"),
            rows);
  }

  /** Empty where the release has none. */
  static Optional<Section> ladder(Subject subject, Digits digits) {
    return subject.ladders().stream()
        .filter(l -> l.firmware().equals(subject.firmware()))
        .findFirst()
        .map(l -> ladder(l, subject, digits));
  }

  private static Section ladder(MeanLadder ladder, Subject subject, Digits digits) {
    List<LadderSteps.Step> steps = new ArrayList<>();
    for (LadderStep step : LadderStep.values()) {
      Double metres = ladder.metresPerKm().get(step);
      if (metres == null) continue;
      steps.add(
          new LadderSteps.Step(
              Words.of(step),
              metres,
              digits.perRoadUnit(metres, METRES_PER_KM),
              metres == 0 ? "nothing" : LadderWords.meaning(step, metres > 0)));
    }
    return Section.of(
            "ladder",
            "Where the error arises",
            List.of(
                "From the measured length to the last distance known, step by step; the steps add"
                    + " up exactly."))
        .drawing(
            new LadderSteps(
                "Mean ladder of "
                    + subject.firmware()
                    + " over one "
                    + (digits.units() == UnitChoice.METRIC ? "kilometre" : "mile"),
                "Mean of "
                    + digits.sessions(ladder.sessions())
                    + " that have a track, as measured by engine version "
                    + subject.judged().engineVersion()
                    + ". An interval is drawn by its middle.",
                steps));
  }
}
