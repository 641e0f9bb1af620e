package milewarden.verdict;

import java.time.Instant;
import java.util.List;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.verdict.Policy.LookPlan;

/**
 * What a tester means to do with a release, said before its first file.
 *
 * @param firmware the candidate's version; need not be known yet
 * @param baseline version of the release that it is to be held against
 * @param conditions in which it is to be run; at least one
 * @param units by name; empty where any will do
 * @param looks at which the comparison is decided, as the policy had them
 * @param materialChangePercent as the policy had it
 * @param stop when the campaign ends
 * @param words the tester's
 */
public record CampaignPlan(
    String model,
    String firmware,
    String baseline,
    List<Planned> conditions,
    List<String> units,
    List<LookPlan> looks,
    double materialChangePercent,
    Stop stop,
    String words,
    String by,
    Instant at) {
  public CampaignPlan {
    conditions = List.copyOf(conditions);
    units = List.copyOf(units);
    looks = List.copyOf(looks);
    if (firmware.isBlank()) throw new IllegalArgumentException("firmware: none");
    if (baseline.isBlank()) throw new IllegalArgumentException("baseline: none");
    if (conditions.isEmpty()) throw new IllegalArgumentException("conditions: none");
    if (looks.isEmpty()) throw new IllegalArgumentException("looks: none");
    if (by.isBlank()) throw new IllegalArgumentException("by: none");
  }

  /** A condition by what a tester can choose beforehand. */
  public record Planned(String course, Carriage carriage, Gait gait) {
    public static Planned of(Condition c) {
      return new Planned(c.course(), c.carriage(), c.gait());
    }
  }

  /** When the campaign ends. */
  public enum Stop {
    /** As soon as a look settles the comparison, else at the last one. */
    WHEN_SETTLED,
    /** At the last look, whatever an earlier one says. */
    AT_THE_LAST_LOOK
  }

  /** Sessions at the last look. */
  public int mostSessions() {
    return looks.get(looks.size() - 1).sessions();
  }
}
