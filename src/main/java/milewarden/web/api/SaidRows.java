package milewarden.web.api;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.store.Id.DueId;
import milewarden.store.judged.Verdicts;
import milewarden.store.told.Outbox;
import milewarden.verdict.Conformity;
import milewarden.verdict.PublishedVerdict;

/** What was said in public, and what was sent, as the API tells it. */
final class SaidRows {
  private SaidRows() {}

  record DecisionRow(String purpose, String decision, boolean provisional) {
    static DecisionRow of(Conformity c) {
      return new DecisionRow(c.purpose().code(), Rows.code(c.decision()), c.provisional());
    }
  }

  record VerdictRow(
      String id,
      String model,
      int number,
      String firmware,
      boolean stands,
      Instant publishedAt,
      String publishedBy,
      String words,
      double meanErrorPercent,
      OptionalDouble expandedUncertaintyPercent,
      int sessions,
      List<DecisionRow> decisions,
      Optional<Integer> replaces,
      Optional<Instant> withdrawnAt) {
    static VerdictRow of(Verdicts.OnRecord r) {
      PublishedVerdict v = r.verdict();
      return new VerdictRow(
          Long.toString(r.id().value()),
          v.model(),
          v.number(),
          v.firmware(),
          r.stands(),
          v.publishedAt(),
          r.by(),
          v.words(),
          v.figures().meanPercent(),
          v.figures().expandedUncertaintyPercent(),
          v.figures().sessions(),
          v.decisions().stream().map(DecisionRow::of).toList(),
          v.replaces().map(PublishedVerdict.Replaced::number),
          r.withdrawn().map(Verdicts.Withdrawn::at));
    }
  }

  record AlertRow(
      String id,
      String messageId,
      String subject,
      String state,
      int attempts,
      Instant createdAt,
      Instant nextTryAt,
      Optional<Instant> sentAt,
      Optional<String> answer,
      String channel,
      Optional<String> recipient,
      List<String> dueIds) {
    static AlertRow of(Outbox.Message m, List<DueId> items) {
      return new AlertRow(
          Long.toString(m.id().value()),
          m.messageId(),
          m.subject(),
          Rows.code(m.state()),
          m.attempts(),
          m.createdAt(),
          m.nextTryAt(),
          m.sentAt(),
          m.answer(),
          Rows.code(m.channel()),
          m.recipient(),
          items.stream().map(i -> Long.toString(i.value())).toList());
    }
  }
}
