package milewarden.report.page.settings;

import java.util.List;
import java.util.Optional;

/**
 * Who may come in, and by which tokens?
 *
 * @param open true where nobody needs to say who they are
 * @param said of what was tried; empty where nothing was
 * @param secret a token that was made now: shown this once
 */
public record PeoplePage(
    boolean open,
    String said,
    boolean done,
    Optional<String> secret,
    List<Person> people,
    List<Token> tokens) {
  public PeoplePage {
    people = List.copyOf(people);
    tokens = List.copyOf(tokens);
  }

  /** Somebody. */
  public record Person(long id, String name, String role, String since, boolean self) {}

  /** A token; {@code live} where it still opens. */
  public record Token(
      long id,
      String name,
      String role,
      String scopes,
      String madeBy,
      String until,
      String state,
      boolean live) {}

  public String sentence() {
    if (open) return "Whoever can use this machine can use the server.";
    long keepers = people.stream().filter(p -> p.role().equals("keeper")).count();
    if (people.isEmpty()) return "Nobody can come in.";
    if (people.size() == 1)
      return "One person can come in" + (keepers == 1 ? ", as keeper." : ", none as keeper.");
    return people.size() + " people can come in, " + keepers + " of them as keeper.";
  }
}
