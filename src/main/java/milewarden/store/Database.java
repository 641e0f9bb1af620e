package milewarden.store;

import com.zaxxer.hikari.HikariConfig;
import com.zaxxer.hikari.HikariDataSource;
import java.io.IOException;
import java.net.InetAddress;
import java.net.UnknownHostException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.SecureRandom;
import java.time.InstantSource;
import java.util.HexFormat;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Consumer;
import java.util.function.Function;
import javax.sql.DataSource;
import milewarden.people.Actor;
import milewarden.store.statement.ListTemplates;
import milewarden.store.statement.PlainSqlParser;
import milewarden.store.statement.ReusingSource;
import org.jdbi.v3.core.Jdbi;
import org.jdbi.v3.core.JdbiException;
import org.jdbi.v3.core.statement.SqlParser;
import org.jdbi.v3.core.statement.SqlStatements;
import org.jdbi.v3.core.statement.TemplateEngine;
import org.jspecify.annotations.Nullable;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteDataSource;

/**
 * The store, open. One writing transaction at a time on both databases (SQLite: IMMEDIATE, one
 * connection; PostgreSQL: an advisory lock, also over several nodes); readers see one committed
 * state and never wait.
 */
public final class Database implements AutoCloseable {
  // One lock for all nodes on one PostgreSQL; any number of our own.
  private static final long WRITERS_LOCK = 4_806_131L;
  private static final int READERS = 4;
  private static final int BUSY_TIMEOUT_MS = 5000;
  // One for all: they remember the statements that they have taken apart.
  private static final SqlParser PARSER = new PlainSqlParser();
  private static final TemplateEngine TEMPLATES = new ListTemplates();

  private final String where;
  private final boolean postgres;
  private final String station;
  private final InstantSource clock;
  private final HikariDataSource writing;
  private final HikariDataSource reading;
  private final Jdbi writers;
  private final Jdbi readers;
  private final StoreSettings settings;
  private final ThreadLocal<Actor> by;
  private final ReadBefore readBefore = new ReadBefore();
  private final Lately lately = new Lately();
  private @Nullable HikariDataSource scheduling;

  private Database(StoreSettings settings, InstantSource clock, Actor otherwise) {
    this.settings = settings;
    this.where = settings.where();
    this.postgres = settings.url().isPresent();
    this.station = postgres ? stationName() : "";
    this.clock = clock;
    this.by = ThreadLocal.withInitial(() -> otherwise);
    this.writing = writing(settings);
    try {
      migrate(settings);
      this.reading = reading(settings);
    } catch (RuntimeException e) {
      writing.close();
      throw e;
    }
    this.writers = jdbi(writing);
    this.readers = jdbi(reading);
  }

  /**
   * Opens the store, makes it where there is none and brings it to this version's tables.
   *
   * @throws StoreUnavailable where it is damaged, locked, out of reach or of a newer version
   */
  public static Database open(StoreSettings settings, InstantSource clock) {
    return open(settings, clock, Actor.SERVER);
  }

  /**
   * As {@link #open(StoreSettings, InstantSource)}.
   *
   * @param otherwise who is at work on threads of which {@link #actAs} said nothing
   */
  public static Database open(StoreSettings settings, InstantSource clock, Actor otherwise) {
    try {
      if (settings.url().isEmpty()) {
        Files.createDirectories(settings.data());
        PrivateFile.make(settings.file());
      }
      return new Database(settings, clock, otherwise);
    } catch (IOException e) {
      throw StoreUnavailable.unreachable(settings.data().toString(), e.toString(), e);
    } catch (RuntimeException e) {
      throw StoreUnavailable.behind(e, settings.where())
          .map(RuntimeException.class::cast)
          .orElse(e);
    }
  }

  /** Runs work that changes the store: all of it is kept, or nothing. */
  public <R> R write(Function<Tx, R> work) {
    AtomicReference<Tx> kept = new AtomicReference<>();
    R answer =
        guarded(
            () ->
                writers.inTransaction(
                    handle -> {
                      if (postgres) handle.execute("select pg_advisory_xact_lock(?)", WRITERS_LOCK);
                      Tx tx = new Tx(handle, clock.instant(), true, station, by.get(), readBefore);
                      R made = work.apply(tx);
                      tx.end();
                      kept.set(tx);
                      return made;
                    }));
    // Not before its end: until then others read the old state.
    Objects.requireNonNull(kept.get()).kept();
    return answer;
  }

  /** As {@link #write}, for work without an answer. */
  public void change(Consumer<Tx> work) {
    write(
        tx -> {
          work.accept(tx);
          return true;
        });
  }

  /** Runs work that sees one state of the store and changes nothing. */
  public <R> R read(Function<Tx, R> work) {
    return guarded(
        () ->
            readers.inTransaction(
                handle ->
                    work.apply(
                        new Tx(handle, clock.instant(), false, station, by.get(), readBefore))));
  }

  /** From now on, what this thread changes is on record under that name. */
  public void actAs(Actor actor) {
    by.set(actor);
  }

  /** The bytes that came last. */
  public Lately lately() {
    return lately;
  }

  /** How the database is named in sentences for people. */
  public String where() {
    return where;
  }

  /** The data folder, also where the database lies elsewhere. */
  public Path folder() {
    return settings.data();
  }

  /**
   * This server among those that share the store: its machine, and what no other start has. Empty
   * for a file, which has one server.
   */
  public String station() {
    return station;
  }

  private static String stationName() {
    return machine() + "-" + HexFormat.of().toHexDigits(new SecureRandom().nextInt());
  }

  /** This machine's name. */
  public static String machine() {
    try {
      return InetAddress.getLocalHost().getHostName();
    } catch (UnknownHostException e) {
      return "station";
    }
  }

  boolean isPostgres() {
    return postgres;
  }

  /**
   * Connections for a scheduler that several stations share, which close with this database; empty
   * for a file, which has one server.
   */
  public synchronized Optional<DataSource> forScheduler() {
    if (!postgres) return Optional.empty();
    if (scheduling == null) scheduling = scheduling(settings);
    return Optional.of(scheduling);
  }

  @Override
  public synchronized void close() {
    if (scheduling != null) scheduling.close();
    reading.close();
    writing.close();
  }

  private <R> R guarded(java.util.function.Supplier<R> work) {
    try {
      return work.get();
    } catch (JdbiException e) {
      throw StoreUnavailable.behind(e, where).map(RuntimeException.class::cast).orElse(e);
    }
  }

  private void migrate(StoreSettings settings) {
    if (!postgres) checkForDamage(writing);
    Migrations.run(settings, writing);
  }

  private void checkForDamage(DataSource source) {
    String verdict =
        Jdbi.create(source)
            .withHandle(h -> h.createQuery("pragma quick_check(1)").mapTo(String.class).one());
    if (!verdict.equals("ok"))
      throw StoreUnavailable.damaged(where, verdict, new IllegalStateException(verdict));
  }

  public static Jdbi jdbi(DataSource source) {
    Jdbi jdbi = Jdbi.create(source);
    jdbi.registerArgument(new Bindings());
    jdbi.getConfig(SqlStatements.class).setSqlParser(PARSER).setTemplateEngine(TEMPLATES);
    return jdbi;
  }

  /** Connections that can't change anything. */
  public static HikariDataSource reading(StoreSettings settings) {
    return settings.url().isPresent() ? postgres(settings, true) : sqlite(settings, true);
  }

  /** The one connection of a writer. */
  public static HikariDataSource writing(StoreSettings settings) {
    return settings.url().isPresent() ? postgres(settings, false) : sqlite(settings, false);
  }

  private static HikariDataSource sqlite(StoreSettings settings, boolean readOnly) {
    NativePart.load();
    SQLiteConfig config = new SQLiteConfig();
    config.setJournalMode(SQLiteConfig.JournalMode.WAL);
    config.setSynchronous(SQLiteConfig.SynchronousMode.FULL);
    config.setBusyTimeout(BUSY_TIMEOUT_MS);
    config.enforceForeignKeys(true);
    config.setTransactionMode(
        readOnly ? SQLiteConfig.TransactionMode.DEFERRED : SQLiteConfig.TransactionMode.IMMEDIATE);
    SQLiteDataSource source = new ReusingSource(config);
    source.setUrl("jdbc:sqlite:" + settings.file());
    HikariConfig pool = pool(readOnly);
    pool.setDataSource(source);
    if (readOnly) pool.setConnectionInitSql("pragma query_only = on");
    return new HikariDataSource(pool);
  }

  private static HikariDataSource scheduling(StoreSettings settings) {
    HikariConfig pool = new HikariConfig();
    pool.setPoolName("scheduler");
    // Its two workers, its own thread, its check of the other stations, and one for a wake.
    pool.setMaximumPoolSize(5);
    pool.setMinimumIdle(1);
    connect(pool, settings);
    return new HikariDataSource(pool);
  }

  private static void connect(HikariConfig pool, StoreSettings settings) {
    pool.setJdbcUrl(settings.url().orElseThrow());
    settings.user().ifPresent(pool::setUsername);
    settings.password().ifPresent(pool::setPassword);
  }

  private static HikariDataSource postgres(StoreSettings settings, boolean readOnly) {
    HikariConfig pool = pool(readOnly);
    connect(pool, settings);
    pool.setReadOnly(readOnly);
    // A writer waits for its turn before its first look; a reader needs one state throughout.
    pool.setTransactionIsolation(
        readOnly ? "TRANSACTION_REPEATABLE_READ" : "TRANSACTION_READ_COMMITTED");
    return new HikariDataSource(pool);
  }

  private static HikariConfig pool(boolean readOnly) {
    HikariConfig pool = new HikariConfig();
    pool.setPoolName(readOnly ? "readers" : "writer");
    pool.setMaximumPoolSize(readOnly ? READERS : 1);
    pool.setMinimumIdle(1);
    // A writer waits for those before it: a batch of results may take seconds on a slow disk.
    pool.setConnectionTimeout(30_000);
    return pool;
  }
}
