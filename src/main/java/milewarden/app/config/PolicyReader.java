package milewarden.app.config;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import milewarden.verdict.Policy;

/** Reads {@code policy.yaml}; every key has a default. */
public final class PolicyReader {
  private static final Policy USUAL = Policy.defaults();
  // Bounds that no sensible rule comes near; they catch slips of a decimal point.
  private static final int MOST = 10_000;
  private static final double MOST_PERCENT = 100;
  private static final String SHARE = "a number between 0 and 1, such as 0.95";
  private static final String PERCENT = "a number of percent above 0, up to 100";

  private final Keys keys;

  private PolicyReader(Keys keys) {
    this.keys = keys;
  }

  /**
   * The policy of a file.
   *
   * @param problems takes what is wrong with it
   */
  public static Policy read(YamlFile file, List<String> problems) {
    Keys keys = new Keys(file);
    Policy policy = new PolicyReader(keys).policy();
    keys.problems().forEach(p -> problems.add(p.toString()));
    return policy;
  }

  /** Every key that there is. */
  static Set<String> keys() {
    Keys keys = new Keys(YamlFile.empty(""));
    new PolicyReader(keys).policy();
    return keys.asked();
  }

  private Policy policy() {
    Optional<Policy> policy =
        Keys.parse(
            "",
            ignored ->
                new Policy(
                    purposes(),
                    count("provisional.sessions", USUAL.provisionalSessions()),
                    count("provisional.days", USUAL.provisionalDays()),
                    count("provisional.units", USUAL.provisionalUnits()),
                    keys.number("insufficient_sessions", USUAL.insufficientSessions(), 2, MOST),
                    percent("material_change_percent", USUAL.materialChangePercent()),
                    count("baseline_sessions", USUAL.baselineSessions()),
                    looks(),
                    keys.number("looks.quiet_minutes", USUAL.lookQuietMinutes(), 0, MOST),
                    keys.real("standard_ratio", USUAL.standardRatio(), 1, MOST),
                    keys.real("spread_alpha", USUAL.spreadAlpha(), 1, MOST),
                    keys.real("smoothing_alpha", USUAL.smoothingAlpha(), 0, 1),
                    share("power", USUAL.power()),
                    keys.number(
                        "threshold.early_sessions", USUAL.thresholdEarlySessions(), 2, MOST),
                    share("threshold.early_level", USUAL.thresholdEarlyLevel()),
                    keys.number("threshold.sessions", USUAL.thresholdSessions(), 2, MOST),
                    share("threshold.level", USUAL.thresholdLevel()),
                    share("suspect.level", USUAL.suspectLevel()),
                    keys.real("suspect.limits", USUAL.suspectLimits(), 0, MOST),
                    count("control_sessions", USUAL.controlSessions()),
                    count("reanchor_sessions", USUAL.reanchorSessions()),
                    count("units_for_variance", USUAL.unitsForVariance()),
                    keys.real("display_share", USUAL.displayShare(), 0, 1),
                    keys.real("source_coverage", USUAL.sourceCoverage(), 0, 1),
                    count("verdict.months", USUAL.verdictMonths()),
                    count("verdict.stale_after_days", USUAL.staleAfterDays()),
                    keys.real("cusum.slack", USUAL.cusumSlack(), 0, MOST),
                    keys.real("cusum.limit", USUAL.cusumLimit(), 0, MOST),
                    count("cusum.sessions", USUAL.cusumSessions()),
                    share("false_discovery", USUAL.falseDiscovery()),
                    percent("figure_step_percent", USUAL.figureStepPercent())));
    // Each value alone was fine, so the looks are not in ascending order.
    if (policy.isEmpty()) keys.refuse("looks.sessions", "must go up from look to look");
    return policy.orElse(USUAL);
  }

  private List<Policy.Purpose> purposes() {
    List<String> names =
        keys.texts("purposes.names", USUAL.purposes().stream().map(Policy.Purpose::code).toList());
    List<Double> mean =
        numbers(
            "purposes.mean_limit_percent",
            USUAL.purposes().stream().map(Policy.Purpose::meanLimitPercent).toList(),
            PERCENT,
            PolicyReader::percent);
    List<Double> next =
        numbers(
            "purposes.next_run_limit_percent",
            USUAL.purposes().stream().map(Policy.Purpose::nextRunLimitPercent).toList(),
            PERCENT,
            PolicyReader::percent);
    if (!alike("purposes.names", names.size(), mean.size(), next.size())) return USUAL.purposes();
    List<Policy.Purpose> purposes = new ArrayList<>();
    for (int i = 0; i < names.size(); i++)
      purposes.add(new Policy.Purpose(names.get(i), mean.get(i), next.get(i)));
    return purposes;
  }

  private List<Policy.LookPlan> looks() {
    List<Double> sessions =
        numbers(
            "looks.sessions",
            USUAL.looks().stream().map(l -> 1.0 * l.sessions()).toList(),
            "whole numbers of sessions, 2 or more",
            PolicyReader::session);
    List<Double> alpha =
        numbers(
            "looks.alpha",
            USUAL.looks().stream().map(Policy.LookPlan::alpha).toList(),
            SHARE,
            PolicyReader::share);
    List<Double> level =
        numbers(
            "looks.equivalence_level",
            USUAL.looks().stream().map(Policy.LookPlan::equivalenceLevel).toList(),
            SHARE,
            PolicyReader::share);
    if (!alike("looks.sessions", sessions.size(), alpha.size(), level.size())) return USUAL.looks();
    List<Policy.LookPlan> looks = new ArrayList<>();
    for (int i = 0; i < sessions.size(); i++)
      looks.add(new Policy.LookPlan(sessions.get(i).intValue(), alpha.get(i), level.get(i)));
    return looks;
  }

  private boolean alike(String key, int first, int second, int third) {
    boolean alike = first > 0 && first == second && second == third;
    if (!alike)
      keys.refuse(key, "and the lists beside it must be of one length, of one entry at least");
    return alike;
  }

  private int count(String key, int usual) {
    return keys.number(key, usual, 1, MOST);
  }

  private double share(String key, double usual) {
    return keys.value(key, usual, SHARE, PolicyReader::share);
  }

  private double percent(String key, double usual) {
    return keys.value(key, usual, PERCENT, PolicyReader::percent);
  }

  private static Optional<Double> share(String text) {
    return Keys.parse(text, Double::valueOf).filter(n -> n > 0 && n < 1);
  }

  private static Optional<Double> percent(String text) {
    return Keys.parse(text, Double::valueOf).filter(n -> n > 0 && n <= MOST_PERCENT);
  }

  private static Optional<Double> session(String text) {
    return Keys.parse(text, Integer::valueOf).filter(n -> n >= 2 && n <= MOST).map(n -> 1.0 * n);
  }

  private List<Double> numbers(
      String key, List<Double> usual, String wanted, Function<String, Optional<Double>> read) {
    if (!keys.has(key)) return usual;
    List<Double> numbers = new ArrayList<>();
    for (String text : keys.texts(key, List.of())) {
      Optional<Double> number = read.apply(text);
      if (number.isEmpty()) {
        keys.refuse(key, "holds `" + text + "`; write " + wanted);
        return usual;
      }
      numbers.add(number.get());
    }
    return numbers;
  }
}
