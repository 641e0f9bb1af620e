package milewarden.review;

import java.time.Instant;
import java.time.ZoneId;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.Policy;
import milewarden.verdict.judging.Judge;

/** The judge with its policy: all that is known of a model in, what is to be said of it out. */
@FunctionalInterface
interface Judging {
  ModelJudgement judge(ModelHistory history, Instant now);

  static Judging by(Policy policy, ZoneId zone) {
    return (history, now) -> Judge.judge(history, policy, now, zone);
  }
}
