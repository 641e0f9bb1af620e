package milewarden.report.paper;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.PlanWords;
import milewarden.report.Words;
import milewarden.report.page.ConditionNames;
import milewarden.report.paper.Section.Fact;
import milewarden.verdict.Condition;
import milewarden.verdict.PlanOnRecord;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.SessionFigure;

/** What was tested and how. */
final class TestedPart {
  private TestedPart() {}

  static Section of(
      Subject subject,
      Optional<ReleaseJudgement> release,
      Optional<ReleaseFigures> pooled,
      Digits digits) {
    List<Fact> facts = new ArrayList<>();
    facts.add(new Fact("model", subject.judged().model(), ""));
    facts.add(
        new Fact(
            "firmware",
            subject.firmware(),
            release
                .map(
                    r ->
                        "of "
                            + digits.date(r.release().date())
                            + (r.release().assumed() ? ", assumed" : ""))
                .orElse("")));
    facts.add(new Fact("units", units(subject, release), ""));
    pooled.ifPresent(
        f ->
            facts.add(
                new Fact(
                    "evidence",
                    digits.sessions(f.sessions())
                        + " on "
                        + digits.counted(f.days(), "day")
                        + ", "
                        + digits.count(f.passes())
                        + (f.passes() == 1 ? " pass" : " passes"),
                    dates(subject, release, digits))));
    List<Condition> conditions = conditions(subject, release);
    ConditionNames names = ConditionNames.of(conditions);
    for (Condition c : conditions)
      facts.add(new Fact("condition", names.of(c), Words.of(c.site())));
    if (!names.shared().isEmpty())
      facts.add(
          new Fact("settings", names.shared(), conditions.size() > 1 ? "in all conditions" : ""));
    pooled.ifPresent(f -> facts.add(new Fact("judged by", JudgedWords.of(f.source()), "")));
    return Section.of(
            "tested",
            "What was tested and how",
            List.of(
                "The device was carried along courses whose length was measured on the ground. Its"
                    + " distance of each pass is held against that length: an error is the"
                    + " distance minus the reference, in percent of the reference; plus reads"
                    + " long.",
                "One session is one piece of evidence, however many passes it has: passes are"
                    + " averaged within their session, conditions carry equal weight."))
        .facts(facts);
  }

  /** What was planned before the first file, and what was done otherwise. */
  static Section plan(PlanOnRecord plan, Digits digits) {
    List<String> says = new ArrayList<>();
    says.add(PlanWords.status(plan, digits));
    says.addAll(PlanWords.of(plan.plan(), digits));
    return Section.of("plan", "What was planned, and what was done otherwise", says)
        .table(
            List.of("Done otherwise than planned"),
            PlanWords.otherwise(plan, digits).stream().map(List::of).toList());
  }

  private static String units(Subject subject, Optional<ReleaseJudgement> release) {
    List<String> units =
        subject
            .published()
            .map(p -> p.verdict().units())
            .orElseGet(
                () ->
                    sessions(subject, release).stream()
                        .flatMap(s -> s.units().stream())
                        .distinct()
                        .sorted()
                        .toList());
    return units.isEmpty() ? Digits.NOT_TESTED : Words.list(units);
  }

  /** The sessions that the figures rest on. */
  private static List<SessionFigure> sessions(Subject s, Optional<ReleaseJudgement> release) {
    List<SessionFigure> all = release.map(ReleaseJudgement::sessions).orElse(List.of());
    if (s.published().isEmpty()) return all;
    var of =
        s.published().get().verdict().runs().stream()
            .map(PublishedVerdict.RunUsed::session)
            .collect(Collectors.toSet());
    return all.stream().filter(x -> of.contains(x.session())).toList();
  }

  private static String dates(Subject s, Optional<ReleaseJudgement> release, Digits digits) {
    List<LocalDate> dates =
        sessions(s, release).stream().map(SessionFigure::date).sorted().toList();
    if (dates.isEmpty()) return "";
    String first = digits.date(dates.get(0));
    String last = digits.date(dates.get(dates.size() - 1));
    return first.equals(last) ? first : first + " to " + last;
  }

  private static List<Condition> conditions(Subject s, Optional<ReleaseJudgement> release) {
    return s.published()
        .map(p -> p.verdict().conditions())
        .orElseGet(
            () ->
                release.stream()
                    .flatMap(r -> r.byCondition().stream())
                    .flatMap(f -> f.condition().stream())
                    .toList());
  }
}
