package milewarden.people;

import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/** What a program's token is for; it opens nothing else, whatever its role may. */
public enum Scope {
  /** All that the role may. */
  ALL("all", Role.READER),
  /** Whatever a reader sees, pages and API. */
  READ("read", Role.READER),
  /** What is due and was told: the list, the calendar, the feed. */
  ALERTS("alerts", Role.READER),
  /** Acknowledging and putting off. */
  ALERTS_WRITE("alerts:write", Role.TESTER),
  /** Sending recordings and their tags, and asking what became of them. */
  TRACKS_WRITE("tracks:write", Role.TESTER),
  /** The lengths and ages of the queues. */
  METRICS("metrics", Role.READER);

  private final String code;
  private final Role least;

  Scope(String code, Role least) {
    this.code = code;
    this.least = least;
  }

  public String code() {
    return code;
  }

  /** The least role that can make use of it. */
  public Role least() {
    return least;
  }

  public static Optional<Scope> of(String code) {
    return Arrays.stream(values()).filter(s -> s.code.equals(code)).findFirst();
  }

  /** Codes parted by spaces, as RFC 6749, section 3.3, writes them; in the order of this enum. */
  public static String written(Set<Scope> scopes) {
    return scopes.stream().sorted().map(Scope::code).collect(Collectors.joining(" "));
  }

  /**
   * What {@link #written} wrote.
   *
   * @throws IllegalArgumentException where a code is none
   */
  public static Set<Scope> read(String written) {
    return of(List.of(written.split(" ")))
        .orElseThrow(() -> new IllegalArgumentException("scopes: " + written));
  }

  /** Scopes by their codes, at least one; empty where a code is none. */
  public static Optional<Set<Scope>> of(List<String> codes) {
    Set<Scope> scopes = EnumSet.noneOf(Scope.class);
    for (String code : codes) {
      Optional<Scope> scope = of(code);
      if (scope.isEmpty()) return Optional.empty();
      scopes.add(scope.get());
    }
    return scopes.isEmpty() ? Optional.empty() : Optional.of(Set.copyOf(scopes));
  }

  /** The least role that can make use of all of them. */
  public static Role least(Set<Scope> scopes) {
    return scopes.stream().map(Scope::least).max(Role::compareTo).orElse(Role.READER);
  }

  /** Why a token of this role can't have these scopes, in a sentence. */
  public static Optional<String> refusal(Set<Scope> scopes, Role role) {
    return scopes.stream()
        .filter(s -> !role.may(s.least()))
        .sorted()
        .findFirst()
        .map(
            s ->
                s.code
                    + " takes the role "
                    + s.least.code()
                    + "; this token is to be "
                    + role.code()
                    + ".");
  }
}
