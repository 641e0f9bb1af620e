package milewarden.store.people;

import java.util.Optional;
import milewarden.people.Passphrase;
import milewarden.people.PersonName;
import milewarden.people.Role;
import milewarden.store.Database;
import milewarden.store.Tx;
import milewarden.store.people.People.Person;

/**
 * People added, changed and removed by the rules that hold for pages and commands alike: there is
 * always a keeper. Each answers with the sentence of a refusal, or with nothing where it was done.
 */
public final class Staff {
  private Staff() {}

  /** Adds somebody; the first is a keeper, for nobody else could let the next one in. */
  public static Optional<String> add(Database database, String name, Role role, String passphrase) {
    Optional<String> wrong =
        PersonName.refusal(name).or(() -> Passphrase.refusal(passphrase, PersonName.of(name)));
    if (wrong.isPresent()) return wrong;
    String kept = Passphrase.hash(passphrase);
    return database.write(
        tx -> {
          if (People.find(tx, name).isPresent())
            return Optional.of("Somebody of that name can come in already.");
          if (role != Role.KEEPER && People.keepers(tx) == 0)
            return Optional.of("The first person is a keeper: nobody else can add the others.");
          People.add(tx, PersonName.of(name), role, kept);
          return Optional.empty();
        });
  }

  public static Optional<String> role(Database database, Person person, Role role) {
    return database.write(
        tx -> {
          if (role != Role.KEEPER && isLast(tx, person)) return Optional.of(last(person));
          if (role != person.role()) People.role(tx, person, role);
          return Optional.empty();
        });
  }

  public static Optional<String> passphrase(Database database, Person person, String passphrase) {
    Optional<String> wrong = Passphrase.refusal(passphrase, person.name());
    if (wrong.isPresent()) return wrong;
    String kept = Passphrase.hash(passphrase);
    database.change(tx -> People.passphrase(tx, person, kept));
    return Optional.empty();
  }

  public static Optional<String> remove(Database database, Person person) {
    return database.write(
        tx -> {
          // Where they are the only one of all, nobody is left to be kept out.
          if (isLast(tx, person) && People.count(tx) > 1) return Optional.of(last(person));
          People.remove(tx, person);
          return Optional.empty();
        });
  }

  private static boolean isLast(Tx tx, Person person) {
    return People.find(tx, person.id()).filter(p -> p.role() == Role.KEEPER).isPresent()
        && People.keepers(tx) == 1;
  }

  private static String last(Person person) {
    return person.name().text() + " is the last keeper; make somebody else one first.";
  }
}
