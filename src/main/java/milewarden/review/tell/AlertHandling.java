package milewarden.review.tell;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import milewarden.store.Database;
import milewarden.store.Id.DueId;
import milewarden.store.Tx;
import milewarden.store.judged.DueItems;

/** Acknowledges alerts and puts them off; what is wrong with the wish is said in a sentence. */
public final class AlertHandling {
  // Put off for longer than this is forgotten, not put off; the project's own choice.
  private static final Duration LONGEST = Duration.ofDays(366);
  private static final int LONGEST_NAME = 200;
  private static final int LONGEST_WORDS = 2000;

  private final Database database;

  public AlertHandling(Database database) {
    this.database = database;
  }

  /** What came of it: nothing wrong where empty. */
  public Optional<String> acknowledge(List<DueId> items, String by, String words) {
    return change(
        items,
        by,
        words,
        tx -> Optional.empty(),
        (tx, id) -> DueItems.acknowledge(tx, id, by, words));
  }

  /** What came of it: nothing wrong where empty. */
  public Optional<String> snooze(List<DueId> items, Instant until, String by, String words) {
    return change(
        items,
        by,
        words,
        tx -> {
          if (!until.isAfter(tx.now()))
            return Optional.of("It can be put off to a later moment only: name a day to come.");
          return until.isAfter(tx.now().plus(LONGEST))
              ? Optional.of("It can be put off for a year at most: name an earlier day.")
              : Optional.empty();
        },
        (tx, id) -> DueItems.snooze(tx, id, until, by, words));
  }

  /** One item's change; false where it is not open. */
  @FunctionalInterface
  private interface Change {
    boolean of(Tx tx, DueId id);
  }

  @FunctionalInterface
  private interface Check {
    Optional<String> in(Tx tx);
  }

  private Optional<String> change(
      List<DueId> items, String by, String words, Check check, Change change) {
    if (by.isBlank()) return Optional.of("Say who you are: it stands in the item's history.");
    if (by.length() > LONGEST_NAME || words.length() > LONGEST_WORDS)
      return Optional.of(
          "That is too long: a name has "
              + LONGEST_NAME
              + " characters at most, words "
              + LONGEST_WORDS
              + ".");
    return database.write(
        tx -> {
          Optional<String> refused = check.in(tx);
          if (refused.isPresent()) return refused;
          int changed = 0;
          for (DueId id : items) if (change.of(tx, id)) changed++;
          return changed == 0
              ? Optional.of("None of these is open any more: nothing was changed.")
              : Optional.empty();
        });
  }
}
