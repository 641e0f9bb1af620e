package milewarden.verdict;

import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * A judgement with the newest sessions of each release alone: what a page shows of a model of
 * thousands. Whoever asks what a decision rests on takes the whole one.
 *
 * @param judged its releases have their newest sessions, in order of start; its looks are without
 *     their evidence, and of the monitoring there are the newest tested release and the controls
 * @param sessions how many each release has in all, in the releases' order
 * @param conditions of all sessions, in the order of their first
 */
public record ModelExcerpt(
    ModelJudgement judged, List<Integer> sessions, List<Condition> conditions) {
  public ModelExcerpt {
    sessions = List.copyOf(sessions);
    conditions = List.copyOf(conditions);
  }

  /** With all sessions. */
  public static ModelExcerpt whole(ModelJudgement judged) {
    return new ModelExcerpt(
        judged,
        judged.releases().stream().map(r -> r.sessions().size()).toList(),
        judged.releases().stream()
            .flatMap(r -> r.sessions().stream())
            .flatMap(s -> s.conditions().stream())
            .map(SessionFigure.OfCondition::condition)
            .distinct()
            .toList());
  }

  /**
   * Of a judgement.
   *
   * @param most so many sessions of each release, the newest
   */
  public static ModelExcerpt of(ModelJudgement judged, int most) {
    ModelExcerpt whole = whole(judged);
    return new ModelExcerpt(
        new ModelJudgement(
            judged.model(),
            judged.judgedAt(),
            judged.engineVersion(),
            judged.releases().stream().map(r -> newest(r, most)).toList(),
            judged.anchor(),
            judged.comparisons().stream().map(ModelExcerpt::withoutEvidence).toList(),
            judged.suspects(),
            monitored(judged),
            judged.due(),
            judged.verdict(),
            judged.units(),
            judged.courses(),
            judged.smoothing()),
        whole.sessions,
        whole.conditions);
  }

  /** How many sessions there are in all. */
  public int all() {
    return sessions.stream().mapToInt(n -> n).sum();
  }

  /** The most that are here of any release where some are missing; 0 where none is. */
  public int newest() {
    int most = 0;
    for (int i = 0; i < sessions.size(); i++) {
      int here = judged.releases().get(i).sessions().size();
      if (here < sessions.get(i)) most = Math.max(most, here);
    }
    return most;
  }

  private static ReleaseJudgement newest(ReleaseJudgement r, int most) {
    int n = r.sessions().size();
    return new ReleaseJudgement(
        r.release(),
        r.firstSeen(),
        r.source(),
        r.pooled(),
        r.byCondition(),
        r.sessions().subList(Math.max(0, n - most), n),
        r.conformity(),
        r.threshold(),
        r.excludedPasses(),
        r.withoutSource(),
        r.reliability(),
        r.waiting().map(w -> new ReleaseJudgement.Waiting(w.until(), w.figures(), List.of())));
  }

  private static List<ModelJudgement.Monitoring> monitored(ModelJudgement judged) {
    String newest =
        judged.releases().stream()
            .filter(ReleaseJudgement::tested)
            .map(r -> r.release().version())
            .collect(Collectors.reducing("", (a, b) -> b));
    return judged.monitoring().stream()
        .filter(m -> m.control() || m.subject().equals(newest))
        .toList();
  }

  private static Comparison withoutEvidence(Comparison c) {
    return new Comparison(
        c.candidate(),
        c.baseline(),
        c.against(),
        c.source(),
        c.candidateSessions(),
        c.baselineSessions(),
        c.sides(),
        c.estimate(),
        c.conditions(),
        c.spread(),
        c.looks().stream().map(ModelExcerpt::withoutEvidence).toList(),
        c.nextLookAt(),
        c.lookWaitsUntil(),
        c.outcome(),
        c.because(),
        c.minimumDetectableChangePercent(),
        c.sessionsNeeded(),
        c.cautions());
  }

  private static Look withoutEvidence(Look l) {
    return new Look(
        l.candidate(),
        l.baseline(),
        l.against(),
        l.number(),
        l.sessions(),
        l.alpha(),
        l.takenAt(),
        l.reLook(),
        l.source(),
        List.of(),
        List.of(),
        l.sides(),
        l.estimate(),
        l.conditions(),
        l.spread(),
        l.outcome(),
        l.because(),
        l.beside(),
        Optional.empty());
  }
}
