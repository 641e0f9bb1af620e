package milewarden.report.paper;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.RunnerWords;
import milewarden.report.Words;
import milewarden.report.paper.Section.Fact;
import milewarden.units.PercentRange;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.ReleaseJudgement;

/** What the figures mean, how far they reach, and how they are found again. */
final class LimitsPart {
  private LimitsPart() {}

  static Section runner(ReleaseFigures f, Digits digits) {
    PercentRange mean = f.interval().orElse(PercentRange.exactly(f.meanPercent()));
    List<String> says = new ArrayList<>(RunnerWords.of(mean, digits));
    says.add("All this follows from the mean error's 95 % interval; a single run scatters more.");
    return Section.of("runner", "What it means for a runner", says);
  }

  static Section limits(Subject subject, Optional<ReleaseJudgement> release) {
    List<String> says = new ArrayList<>();
    says.add(Words.SCOPE);
    boolean few =
        subject
            .published()
            .map(p -> p.verdict().theseUnitsOnly())
            .or(() -> release.flatMap(ReleaseJudgement::pooled).map(ReleaseFigures::theseUnitsOnly))
            .orElse(false);
    if (few) says.add("Few units were tested: it says nothing of other units.");
    says.add(
        "The figures hold for the conditions named above: another course, sky, carriage or gait may"
            + " give others.");
    if (subject.published().isEmpty() && release.filter(r -> r.excludedPasses() > 0).isPresent())
      says.add(
          release.get().excludedPasses() + " passes were left out, each with a reason on record.");
    return Section.of("limits", "Limits of the test", says);
  }

  static Section cautions() {
    return Section.of("cautions", "Cautions", Words.CAUTIONS);
  }

  static Section recompute(Subject subject) {
    List<String> says = new ArrayList<>();
    String engine =
        subject
            .published()
            .map(p -> p.verdict().engineVersion())
            .orElse(subject.judged().engineVersion());
    List<Fact> facts = new ArrayList<>();
    facts.add(new Fact("method", "engine version " + engine, "results name it"));
    if (subject.published().isEmpty()) {
      says.add(
          "Nothing is published, so no archive is frozen. The command 'milewarden recompute' works all"
              + " results out again from the bytes of the recordings.");
      return Section.of("recompute", "How to find the figures again", says).facts(facts);
    }
    PublishedVerdict v = subject.published().get().verdict();
    says.add(
        subject.capsule().isPresent()
            ? "The capsule beside this report holds recordings, courses, rules and sums. Offline,"
                + " the command 'milewarden verdict check CAPSULE.zip' finds every figure again and"
                + " names the first that differs."
            : "No capsule goes with this report: the verdict was published before capsules were"
                + " kept.");
    for (PublishedVerdict.CourseUsed c : v.courses())
      facts.add(new Fact("course", c.slug(), "version " + c.version()));
    long files =
        v.runs().stream()
            .map(PublishedVerdict.RunUsed::sha256)
            .filter(h -> !h.isEmpty())
            .distinct()
            .count();
    facts.add(new Fact("recordings", Long.toString(files), "SHA-256 of each in the capsule"));
    return Section.of("recompute", "How to find the figures again", says).facts(facts);
  }

  static Section version(Subject subject, Digits digits) {
    if (subject.published().isEmpty())
      return Section.of(
          "version",
          "Version of this report",
          List.of("A draft of " + digits.moment(subject.judged().judgedAt()) + "."));
    PublishedVerdict v = subject.published().get().verdict();
    var fate = subject.published().get().fate();
    List<Fact> facts = new ArrayList<>();
    facts.add(new Fact("version", "verdict " + v.number(), "numbers run by model"));
    facts.add(new Fact("published", digits.moment(v.publishedAt()), "by " + fate.by()));
    facts.add(
        v.replaces()
            .map(r -> new Fact("replaces", "verdict " + r.number(), JudgedWords.of(r.reason())))
            .orElse(new Fact("replaces", "nothing", "the first on this model")));
    fate.takenBack()
        .ifPresent(
            t ->
                facts.add(
                    new Fact(
                        "withdrawn", digits.moment(t.at()), "by " + t.by() + ": " + t.words())));
    fate.replacedBy()
        .ifPresent(
            n ->
                facts.add(
                    new Fact(
                        "replaced",
                        digits.moment(n.at()),
                        "by verdict " + n.number() + " on " + n.firmware())));
    return Section.of("version", "Version, and what it replaces", List.of()).facts(facts);
  }
}
