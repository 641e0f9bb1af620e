package milewarden.report.page.model;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.ModelJudgement.Monitoring;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseJudgement;

/**
 * Cumulative sums session by session: slow drift inside a release, or of a control unit.
 *
 * @param limit above which either sum signals, in standard deviations
 * @param signals the session that signals, from 1; empty where none
 */
public record CusumChart(
    String key,
    String heading,
    String sentence,
    String caption,
    double limit,
    List<Point> points,
    List<Integer> signals) {
  public CusumChart {
    points = List.copyOf(points);
    signals = List.copyOf(signals);
  }

  /** Both sums after a session, in standard deviations; the lower one is drawn downwards. */
  public record Point(int session, double high, double low, String highWords, String lowWords) {}

  /** What the drawing takes of the points: one value per session in each list. */
  public record Drawn(
      double limit,
      List<Double> high,
      List<Double> low,
      List<String> highWords,
      List<String> lowWords,
      List<Integer> signals) {
    public Drawn {
      high = List.copyOf(high);
      low = List.copyOf(low);
      highWords = List.copyOf(highWords);
      lowWords = List.copyOf(lowWords);
      signals = List.copyOf(signals);
    }
  }

  /** The same for a script: a name for each value of each session would be most of it. */
  public Drawn drawn() {
    return new Drawn(
        limit,
        points.stream().map(p -> toTheEye(p.high())).toList(),
        points.stream().map(p -> toTheEye(p.low())).toList(),
        points.stream().map(Point::highWords).toList(),
        points.stream().map(Point::lowWords).toList(),
        signals);
  }

  // A thousandth of a standard deviation is far less than the width of a line.
  private static double toTheEye(double sum) {
    return Math.round(1000 * sum) / 1000.0;
  }

  /** Of the newest tested release and of the control units. */
  static List<CusumChart> of(ModelJudgement judged, Policy policy, Digits digits) {
    Optional<String> newest =
        ModelPage.newestTested(judged).map((ReleaseJudgement r) -> r.release().version());
    List<CusumChart> charts = new ArrayList<>();
    for (Monitoring m : judged.monitoring())
      if (m.control() || newest.filter(m.subject()::equals).isPresent())
        charts.add(of("cusum" + charts.size(), m, policy, digits));
    return charts;
  }

  private static CusumChart of(String key, Monitoring m, Policy policy, Digits digits) {
    List<Point> points = new ArrayList<>();
    for (int i = 0; i < m.high().size(); i++) {
      String high = digits.number(m.high().get(i), 1);
      String low = digits.number(m.low().get(i), 1);
      points.add(new Point(i + 1, m.high().get(i), m.low().get(i), high, low));
    }
    String who = m.control() ? "control unit " + m.subject() : m.subject();
    return new CusumChart(
        key,
        "Does " + who + " drift?",
        m.signalAt().isPresent()
            ? "Yes: from session " + (m.signalAt().getAsInt() + 1) + " on a drift is signalled."
            : "No drift is signalled in " + digits.sessions(points.size()) + ".",
        "Cumulative sums of "
            + digits.sessions(points.size())
            + " in order of start, standardised"
            + (m.selfStarting()
                ? ", self-starting: each by the sessions before it, as there are fewer than "
                    + policy.cusumSessions()
                : " by the first " + policy.cusumSessions())
            + "; slack "
            + digits.number(policy.cusumSlack(), 1)
            + ", limit "
            + digits.number(m.limit(), 1)
            + " standard deviations. Upwards the device reads longer, downwards shorter; across: sessions.",
        m.limit(),
        points,
        m.signalAt().isPresent() ? List.of(m.signalAt().getAsInt() + 1) : List.of());
  }
}
