package milewarden.people;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;

/** What somebody may do; each role may all that the one before it may. */
public enum Role {
  /** Sees everything but people and changes nothing. */
  READER,
  /** Uploads, tags, makes courses, plans and drafts. */
  TESTER,
  /** Rules, people, mail, back-ups; publishes and withdraws verdicts. */
  KEEPER;

  public String code() {
    return name().toLowerCase(Locale.ROOT);
  }

  public static Optional<Role> of(String code) {
    return Arrays.stream(values()).filter(r -> r.code().equals(code.strip())).findFirst();
  }

  /** True where this role may do what {@code needed} may. */
  public boolean may(Role needed) {
    return compareTo(needed) >= 0;
  }

  /** The lesser of the two. */
  public Role atMost(Role other) {
    return may(other) ? other : this;
  }
}
