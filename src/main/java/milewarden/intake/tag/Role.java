package milewarden.intake.tag;

import java.util.Locale;
import java.util.Optional;
import milewarden.intake.tag.TagSettling.Settled;
import milewarden.track.TagName;

/** What a recording is in its session. */
public enum Role {
  /** A device under test: the usual one. */
  TEST,
  /** The track of a survey-grade receiver that was carried along; it is no run. */
  REFERENCE;

  static Optional<Role> of(String text) {
    return TagReader.parse(text.strip().toUpperCase(Locale.ROOT), Role::valueOf);
  }

  /** A test where nothing is said, or nothing that is understood: then it is asked for. */
  public static Role of(Settled settled) {
    return settled.value(TagName.ROLE).flatMap(Role::of).orElse(TEST);
  }
}
