package milewarden.web;

import io.javalin.http.Context;
import java.util.Optional;
import java.util.Set;
import milewarden.people.Actor;
import milewarden.people.Role;
import milewarden.people.Scope;
import milewarden.store.Id.PersonId;
import org.jspecify.annotations.Nullable;

/**
 * Who sent the request that is answered now.
 *
 * @param person where somebody gave a passphrase, or whose token it is
 * @param known false where a role is needed and nobody said who they are
 * @param scopes what a token is for; people are for all that their role may
 */
public record Visitor(
    Actor actor, Role role, Optional<PersonId> person, boolean known, Set<Scope> scopes) {
  private static final String ATTRIBUTE = "milewarden.visitor";

  /** Nobody that we know. */
  public static final Visitor STRANGER =
      new Visitor(Actor.THIS_MACHINE, Role.READER, Optional.empty(), false, Set.of(Scope.ALL));

  /** Whoever sits at this machine, where nobody has a passphrase. */
  public static final Visitor HERE =
      new Visitor(Actor.THIS_MACHINE, Role.KEEPER, Optional.empty(), true, Set.of(Scope.ALL));

  public Visitor {
    scopes = Set.copyOf(scopes);
  }

  public static Visitor of(Context http) {
    @Nullable Visitor said = http.attribute(ATTRIBUTE);
    return said == null ? STRANGER : said;
  }

  public void on(Context http) {
    http.attribute(ATTRIBUTE, this);
  }

  public boolean may(Role needed) {
    return known && role.may(needed);
  }

  /** True where somebody gave a passphrase: they can leave again. */
  public boolean signedIn() {
    return known && actor.kind() == Actor.Kind.PERSON;
  }
}
