package milewarden.intake.tag;

import java.util.Locale;
import java.util.Optional;

/** What a tester says to a recording whose settings were other than stated. */
public enum SettingsAnswer {
  /** It is as the recording shows: it counts in a condition with that setting. */
  AS_FOUND,
  /** The settings were as stated: it counts where it said. */
  AS_STATED,
  /** The settings were wrong: it is left out, with that reason. */
  WRONG;

  /** The word in files and forms: {@code as-found}. */
  public String code() {
    return name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  static Optional<SettingsAnswer> of(String text) {
    String wanted = text.strip().toLowerCase(Locale.ROOT).replace('_', '-').replace(' ', '-');
    for (SettingsAnswer answer : values())
      if (answer.code().equals(wanted)) return Optional.of(answer);
    return Optional.empty();
  }
}
