package milewarden.verdict.due;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import milewarden.units.PercentRange;
import milewarden.verdict.Comparison;
import milewarden.verdict.DueItem;
import milewarden.verdict.DueItem.Advice;
import milewarden.verdict.DueItem.Cause;
import milewarden.verdict.DueItem.DecisionChange;
import milewarden.verdict.DueItem.Facts;
import milewarden.verdict.DueItem.Kind;
import milewarden.verdict.DueItem.Severity;
import milewarden.verdict.SmoothingChange;
import milewarden.verdict.Source;

/** An item in the making: gathers the numbers of its sentence; what is not said stays empty. */
final class Raised {
  private final Cause cause;
  private final String key;
  private final Severity severity;
  private Optional<String> other = Optional.empty();
  private List<DecisionChange> purposes = List.of();
  private OptionalDouble percent = OptionalDouble.empty();
  private Optional<PercentRange> interval = Optional.empty();
  private OptionalDouble limit = OptionalDouble.empty();
  private OptionalInt sessions = OptionalInt.empty();
  private OptionalInt wanted = OptionalInt.empty();
  private Optional<LocalDate> date = Optional.empty();
  private Optional<String> course = Optional.empty();
  private Optional<Comparison.Because> because = Optional.empty();
  private Optional<Source> source = Optional.empty();
  private Optional<Comparison.Spread> spread = Optional.empty();
  private Optional<SmoothingChange> smoothing = Optional.empty();
  private List<Long> evidence = List.of();

  Raised(Cause cause, String key, Severity severity) {
    this.cause = cause;
    this.key = key;
    this.severity = severity;
  }

  Raised other(String firmware) {
    other = Optional.of(firmware);
    return this;
  }

  Raised purposes(List<DecisionChange> changes) {
    purposes = changes;
    return this;
  }

  Raised percent(double x) {
    percent = OptionalDouble.of(x);
    return this;
  }

  Raised interval(PercentRange r) {
    interval = Optional.of(r);
    return this;
  }

  Raised limit(double x) {
    limit = OptionalDouble.of(x);
    return this;
  }

  Raised sessions(int n) {
    sessions = OptionalInt.of(n);
    return this;
  }

  Raised wanted(int n) {
    wanted = OptionalInt.of(n);
    return this;
  }

  Raised date(LocalDate d) {
    date = Optional.of(d);
    return this;
  }

  Raised course(String slug) {
    course = Optional.of(slug);
    return this;
  }

  Raised because(Comparison.Because why) {
    because = Optional.of(why);
    return this;
  }

  Raised source(Source s) {
    source = Optional.of(s);
    return this;
  }

  Raised spread(Comparison.Spread s) {
    spread = Optional.of(s);
    return this;
  }

  Raised smoothing(SmoothingChange s) {
    smoothing = Optional.of(s);
    return this;
  }

  Raised evidence(List<Long> results) {
    evidence = results;
    return this;
  }

  DueItem item(Known known, String firmware, Advice advice) {
    Facts facts =
        new Facts(
            other, purposes, percent, interval, limit, sessions, wanted, date, course, because,
            source, spread, smoothing);
    return new DueItem(
        key, kind(), severity, cause, known.history().model(), firmware, facts, advice, evidence);
  }

  private Kind kind() {
    return switch (cause) {
      case NEWER_FIRMWARE, COMPARISON_NOT_SETTLED, VERDICT_OLD, SUSPECT_RUN, SMOOTHING_CHANGED ->
          Kind.RETEST_DUE;
      // A changed decision asks for words, whatever moved it; a moved figure for a look.
      case COURSE_REMEASURED, ENGINE_MOVED_RESULTS ->
          purposes.isEmpty() ? Kind.RETEST_DUE : Kind.VERDICT_UPDATE_DUE;
      case DECISION_CHANGED,
          COMPARISON_WORSE,
          COMPARISON_BETTER,
          COMPARISON_CHANGED,
          THRESHOLD_RAISED,
          THRESHOLD_CLEARED ->
          Kind.VERDICT_UPDATE_DUE;
    };
  }
}
