package milewarden.store.keep;

import com.zaxxer.hikari.HikariDataSource;
import com.zaxxer.hikari.pool.HikariPool.PoolInitializationException;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import milewarden.people.Actor;
import milewarden.store.Database;
import milewarden.store.Migrations;
import milewarden.store.ReadBefore;
import milewarden.store.StoreSettings;
import milewarden.store.StoreUnavailable;
import milewarden.store.Tx;
import milewarden.store.keep.StoreFinding.Kind;
import org.jdbi.v3.core.Jdbi;
import org.jdbi.v3.core.JdbiException;

/**
 * Holds everything stored against what it should be: the database's own structure (SQLite; a
 * PostgreSQL watches over its own), every kept byte against its hash, every reference, every stored
 * record. It only reads, also beside a running server.
 */
public final class StoreCheck {
  // Of one kind of damage the first tell enough; the rest are counted in a sentence.
  static final int MOST_ALIKE = 20;

  private final StoreSettings settings;
  private final InstantSource clock;
  private final List<StoreFinding> findings = new ArrayList<>();

  private StoreCheck(StoreSettings settings, InstantSource clock) {
    this.settings = settings;
    this.clock = clock;
  }

  /**
   * What was checked, and what was found.
   *
   * @param files distinct contents whose hashes were worked out
   * @param bytes of them, before deflating
   * @param references rows that name another row
   * @param records stored as text that were read
   */
  public record Checked(
      long files, long bytes, long references, long records, List<StoreFinding> findings) {
    public Checked {
      findings = List.copyOf(findings);
    }
  }

  /**
   * Checks the store.
   *
   * @throws StoreUnavailable where it can't be opened for another reason than damage, or is of
   *     another version
   */
  public static Checked check(StoreSettings settings, InstantSource clock) {
    return new StoreCheck(settings, clock).run();
  }

  private Checked run() {
    KeptBytes.Tally kept = new KeptBytes.Tally();
    long[] seen = {0, 0};
    try (HikariDataSource source = Database.reading(settings)) {
      Jdbi jdbi = Database.jdbi(source);
      Migrations.requireCurrent(settings, source);
      if (settings.url().isEmpty()) findings.addAll(read(jdbi, StoreCheck::structure));
      if (findings.isEmpty()) {
        KeptBytes.check(work -> read(jdbi, work), kept, findings);
        seen[0] = read(jdbi, tx -> References.check(tx, findings));
        seen[1] = read(jdbi, tx -> KeptRecords.check(tx, findings));
      }
    } catch (PoolInitializationException | JdbiException | StoreUnavailable e) {
      StoreUnavailable why = StoreUnavailable.behind(e, settings.where()).orElseThrow(() -> e);
      if (why.kind() != StoreUnavailable.Cause.DAMAGED) throw why;
      findings.add(StoreFinding.of(Kind.DATABASE, String.valueOf(why.getMessage())));
    }
    return new Checked(kept.files, kept.bytes, seen[0], seen[1], findings);
  }

  private <R> R read(Jdbi jdbi, Function<Tx, R> work) {
    return jdbi.inTransaction(
        handle ->
            work.apply(
                new Tx(handle, clock.instant(), false, "", Actor.COMMAND_LINE, new ReadBefore())));
  }

  // https://sqlite.org/pragma.html#pragma_integrity_check
  private static List<StoreFinding> structure(Tx tx) {
    return tx
        .query("pragma integrity_check(" + MOST_ALIKE + ")")
        .mapTo(String.class)
        .list()
        .stream()
        .filter(said -> !said.equals("ok"))
        .map(said -> StoreFinding.of(Kind.DATABASE, "The database file is damaged: " + said + "."))
        .toList();
  }
}
