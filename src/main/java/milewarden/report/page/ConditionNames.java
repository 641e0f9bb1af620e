package milewarden.report.page;

import java.util.Collection;
import milewarden.report.JudgedWords;
import milewarden.report.SettingsWords;
import milewarden.verdict.Condition;

/** Names for the conditions of one page: a settings profile that all share is left out. */
public final class ConditionNames {
  private final boolean oneProfile;
  private final String profile;

  private ConditionNames(boolean oneProfile, String profile) {
    this.oneProfile = oneProfile;
    this.profile = profile;
  }

  public static ConditionNames of(Collection<Condition> all) {
    long profiles = all.stream().map(Condition::settings).distinct().count();
    String first = all.stream().map(Condition::settings).findFirst().orElse("");
    return new ConditionNames(profiles <= 1, first);
  }

  public String of(Condition c) {
    return JudgedWords.of(oneProfile ? withoutProfile(c) : c);
  }

  /** The profile that was left out; empty text where each name has its own. */
  public String shared() {
    return oneProfile ? SettingsWords.profile(profile) : "";
  }

  private static Condition withoutProfile(Condition c) {
    return new Condition(c.course(), c.courseVersion(), c.site(), c.carriage(), c.gait(), "");
  }
}
