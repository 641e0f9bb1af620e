package milewarden.report.page.outing;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.page.Links;
import milewarden.report.page.ReleaseWords;
import milewarden.units.PercentRange;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.headtohead.HeadToHead;
import milewarden.verdict.headtohead.HeadToHead.Side;

/**
 * Each model's sessions on a line of its own, one below the other, the same session joined: what
 * moved both is seen as joined lines that lean alike. Percent throughout, plus reads long.
 *
 * @param limits sizes of the purposes' limits on the mean error, smallest first
 * @param marks of a session that several models were carried in, one for each
 */
public record HeadToHeadChart(List<Limit> limits, List<Line> lines, List<Mark> marks) {
  public HeadToHeadChart {
    limits = List.copyOf(limits);
    lines = List.copyOf(lines);
    marks = List.copyOf(marks);
  }

  /** A purpose's limit. */
  public record Limit(String name, double percent, String words) {}

  /** A model. */
  public record Line(
      String name,
      String firmware,
      String label,
      OptionalDouble mean,
      OptionalDouble low,
      OptionalDouble high,
      OptionalDouble nextLow,
      OptionalDouble nextHigh,
      String words) {}

  /**
   * A session of a model.
   *
   * @param line the model's place
   */
  public record Mark(int line, String session, double percent, String words, String link) {}

  /** A session as a row of the table: one error for each model, or that it was not carried. */
  public record Outing(String session, String link, List<String> errors) {
    public Outing {
      errors = List.copyOf(errors);
    }
  }

  /**
   * The chart.
   *
   * @param most so many sessions, the newest
   */
  public static HeadToHeadChart of(HeadToHead head, int most, Policy policy, Digits digits) {
    Set<String> shown = Set.copyOf(newest(sessions(head), most));
    List<Mark> marks = new ArrayList<>();
    for (int i = 0; i < head.sides().size(); i++)
      for (SessionFigure s : head.sides().get(i).sessions())
        if (shown.contains(s.session())) marks.add(mark(i, s, head, digits));
    return new HeadToHeadChart(
        policy.purposes().stream()
            .sorted(Comparator.comparingDouble(Policy.Purpose::meanLimitPercent))
            .map(p -> limit(p, digits))
            .toList(),
        head.sides().stream().map(s -> line(s, digits)).toList(),
        marks);
  }

  private static Limit limit(Policy.Purpose p, Digits digits) {
    return new Limit(
        JudgedWords.purpose(p.code()),
        p.meanLimitPercent(),
        digits.bothSides(p.meanLimitPercent()));
  }

  private static Mark mark(int line, SessionFigure s, HeadToHead head, Digits digits) {
    return new Mark(
        line,
        s.session(),
        s.meanPercent(),
        head.sides().get(line).release().name()
            + "\n"
            + digits.percent(s.meanPercent(), 2)
            + "\n"
            + digits.date(s.date())
            + ", "
            + String.join(", ", s.units()),
        Links.session(s.session()));
  }

  private static Line line(Side side, Digits digits) {
    Optional<ReleaseFigures> f = side.figures();
    Optional<PercentRange> mean = f.flatMap(ReleaseFigures::interval);
    Optional<PercentRange> next = f.flatMap(ReleaseFigures::nextRun);
    String label = f.map(x -> ReleaseWords.mean(x, digits)).orElse("nothing in common");
    return new Line(
        side.release().name(),
        side.release().firmware(),
        label,
        f.isPresent() ? OptionalDouble.of(f.get().meanPercent()) : OptionalDouble.empty(),
        end(mean, PercentRange::low),
        end(mean, PercentRange::high),
        end(next, PercentRange::low),
        end(next, PercentRange::high),
        side.release().name()
            + " "
            + side.release().firmware()
            + "\nmean "
            + label
            + next.map(n -> "\nnext run " + digits.interval(n)).orElse(""));
  }

  private static OptionalDouble end(
      Optional<PercentRange> range, java.util.function.ToDoubleFunction<PercentRange> which) {
    return range.isPresent()
        ? OptionalDouble.of(which.applyAsDouble(range.get()))
        : OptionalDouble.empty();
  }

  /** All sessions, in order of start. */
  static List<String> sessions(HeadToHead head) {
    // Two outings may begin at once: each has its name.
    Map<String, Instant> starts = new HashMap<>();
    for (Side side : head.sides())
      for (SessionFigure s : side.sessions())
        starts.merge(s.session(), s.start(), (a, b) -> a.isBefore(b) ? a : b);
    return starts.entrySet().stream()
        .sorted(Map.Entry.<String, Instant>comparingByValue().thenComparing(Map.Entry::getKey))
        .map(Map.Entry::getKey)
        .toList();
  }

  /** The newest sessions, in order of start. */
  static List<String> newest(List<String> all, int most) {
    return all.subList(Math.max(0, all.size() - most), all.size());
  }

  /** Sessions as rows of a table. */
  static List<Outing> outings(HeadToHead head, List<String> sessions, Digits digits) {
    Set<String> shown = Set.copyOf(sessions);
    List<Map<String, Double>> errors =
        head.sides().stream()
            .map(
                side ->
                    side.sessions().stream()
                        .filter(s -> shown.contains(s.session()))
                        .collect(
                            Collectors.toMap(
                                SessionFigure::session, SessionFigure::meanPercent, (a, b) -> a)))
            .toList();
    return sessions.stream()
        .map(
            session ->
                new Outing(
                    session,
                    Links.session(session),
                    errors.stream()
                        .map(of -> of.get(session))
                        .map(e -> e == null ? "not carried" : digits.percent(e, 2))
                        .toList()))
        .toList();
  }
}
