package milewarden.report.paper;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.page.ReleaseWords;
import milewarden.verdict.Conformity;
import milewarden.verdict.Policy;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.ReleaseJudgement;

/**
 * The report on one release: all that its HTML and its JSON say.
 *
 * @param standing whether it is published, and what became of it
 * @param words the tester's; empty where nothing is published
 * @param figure the mean error with its uncertainty
 * @param numbers the pooled figures, not rounded; empty where nothing was tested
 * @param capsule address of the archive, from where the report lies; empty where there is none
 */
public record FirmwareReport(
    String title,
    String model,
    String firmware,
    String standing,
    String words,
    String figure,
    String figureWords,
    Optional<Numbers> numbers,
    List<Section> sections,
    Optional<String> capsule) {
  public FirmwareReport {
    sections = List.copyOf(sections);
  }

  /** The report; a release that was never tested says so. */
  public static FirmwareReport of(Subject subject, Digits digits) {
    Optional<PublishedVerdict> verdict = subject.published().map(Subject.Published::verdict);
    Optional<ReleaseJudgement> release = subject.judged().release(subject.firmware());
    Optional<ReleaseFigures> pooled =
        verdict.map(PublishedVerdict::figures).or(() -> release.flatMap(ReleaseJudgement::pooled));
    String model = subject.judged().model();
    return new FirmwareReport(
        "Distance of " + model + ", firmware " + subject.firmware(),
        model,
        subject.firmware(),
        standing(subject, digits),
        verdict.map(PublishedVerdict::words).orElse(""),
        pooled.map(f -> ReleaseWords.mean(f, digits)).orElse(Digits.NOT_TESTED),
        pooled
            .map(
                f ->
                    "mean error, "
                        + ReleaseWords.basis(f, digits)
                        + ", from "
                        + JudgedWords.of(f.source()))
            .orElse("no session counts yet"),
        pooled.map(Numbers::of),
        sections(subject, release, pooled, digits),
        subject.capsule());
  }

  private static List<Section> sections(
      Subject subject,
      Optional<ReleaseJudgement> release,
      Optional<ReleaseFigures> pooled,
      Digits digits) {
    Policy rule = subject.published().map(p -> p.verdict().policy()).orElse(subject.policy());
    List<Section> all = new ArrayList<>();
    all.add(TestedPart.of(subject, release, pooled, digits));
    subject.plan().ifPresent(plan -> all.add(TestedPart.plan(plan, digits)));
    pooled.ifPresent(
        f -> {
          all.add(FiguresPart.figures(f, each(subject, release), rule, digits));
          all.add(FiguresPart.decisions(decisions(subject, release), rule, digits));
          if (subject.open()) {
            all.add(FiguresPart.releases(subject.judged(), rule, digits));
            FiguresPart.ladder(subject, digits).ifPresent(all::add);
          }
          all.add(LimitsPart.runner(f, digits));
        });
    all.add(LimitsPart.limits(subject, release));
    all.add(LimitsPart.cautions());
    all.add(LimitsPart.recompute(subject));
    all.add(LimitsPart.version(subject, digits));
    return all;
  }

  private static String standing(Subject subject, Digits digits) {
    if (subject.published().isEmpty())
      return "Not published: the figures of "
          + digits.date(subject.judged().judgedAt())
          + ", which may still change.";
    PublishedVerdict v = subject.published().get().verdict();
    var state = subject.published().get().fate().state();
    return "Verdict "
        + v.number()
        + ", published "
        + digits.date(v.publishedAt())
        + ", "
        + JudgedWords.of(state).word()
        + ". "
        + JudgedWords.sentence(state, v.policy(), digits);
  }

  private static List<ReleaseFigures> each(Subject s, Optional<ReleaseJudgement> release) {
    return s.published()
        .map(p -> p.verdict().figuresByCondition())
        .or(() -> release.map(ReleaseJudgement::byCondition))
        .orElse(List.of());
  }

  private static List<Conformity> decisions(Subject s, Optional<ReleaseJudgement> release) {
    return s.published()
        .map(p -> p.verdict().decisions())
        .or(() -> release.map(ReleaseJudgement::conformity))
        .orElse(List.of());
  }
}
