package milewarden.store;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.HashSet;
import java.util.Set;
import java.util.function.Supplier;
import milewarden.people.Actor;
import milewarden.verdict.ModelBrief;
import milewarden.verdict.ModelExcerpt;
import milewarden.verdict.ModelJudgement;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.statement.PreparedBatch;
import org.jdbi.v3.core.statement.Query;
import org.jdbi.v3.core.statement.StatementContext;
import org.jdbi.v3.core.statement.StatementCustomizer;
import org.jdbi.v3.core.statement.Update;
import org.sqlite.SQLiteConnection;

/** A transaction under way and its one instant. Good only inside the call that it was given to. */
public final class Tx {
  private static final Object ONE = "every connection of a server of databases";
  // Both change with every commit of anybody, and cost next to nothing: of SQLite as this
  // connection counts them, of PostgreSQL which transactions have ended by now.
  private static final String STAMP_OF_A_FILE = "pragma data_version";
  private static final String STAMP_OF_A_SERVER = "select pg_current_snapshot()::text as stamp";

  private final Handle handle;
  private final Instant now;
  private final boolean writes;
  private final String station;
  private final Actor by;
  private final ReadBefore readBefore;
  private final long began;
  private final Set<Long> judged = new HashSet<>();
  private final Moved moved = new Moved();
  private boolean changed;

  /** What touches no row changes nothing: what was worked out before still holds. */
  private final class Touched implements StatementCustomizer {
    private final String sql;

    Touched(String sql) {
      this.sql = sql;
    }

    @Override
    public void afterExecution(PreparedStatement statement, StatementContext context)
        throws SQLException {
      // Whatever has no count may have changed anything.
      if (statement.getUpdateCount() != 0) change(sql);
    }
  }

  /** A batch is made before it is known whether a row comes into it; an empty one is never run. */
  private final class Ran implements StatementCustomizer {
    private final String sql;

    Ran(String sql) {
      this.sql = sql;
    }

    @Override
    public void beforeExecution(PreparedStatement statement, StatementContext context) {
      change(sql);
    }
  }

  private void change(String sql) {
    changed = true;
    moved.by(sql);
  }

  public Tx(
      Handle handle, Instant now, boolean writes, String station, Actor by, ReadBefore readBefore) {
    this.handle = handle;
    this.now = now.truncatedTo(ChronoUnit.MILLIS);
    this.writes = writes;
    this.station = station;
    this.by = by;
    this.readBefore = readBefore;
    this.began = readBefore.now();
  }

  /** The instant of the whole transaction, in milliseconds. */
  public Instant now() {
    return now;
  }

  /**
   * Later than any lease, pause or quiet hour reaches: a time beyond it was written by a clock that
   * has been set back since, and is over.
   */
  public Instant beyond() {
    return now.plus(2, ChronoUnit.DAYS);
  }

  /** Who works here, of several stations on one store; empty where there is only one. */
  public String station() {
    return station;
  }

  /** Who is at work: what is changed is on record under this name. */
  public Actor by() {
    return by;
  }

  /** Judgements that were read from the same text already. */
  public ReadBefore readBefore() {
    return readBefore;
  }

  /**
   * What {@code read} answers, or what it answered before where nothing at all was written since:
   * for what every page asks.
   *
   * @param what it is that is read, which tells it from all else
   * @param read depends on the store and on {@code what} alone
   */
  @SuppressWarnings("unchecked")
  public <T> T unwritten(Object what, Supplier<T> read) {
    // A connection doesn't see its own changes as changes.
    if (writes) return read.get();
    try {
      Object connection = connection();
      boolean file = connection != ONE;
      String stamp = query(file ? STAMP_OF_A_FILE : STAMP_OF_A_SERVER).mapTo(String.class).one();
      return (T) readBefore.remembered.read(connection, stamp, what, read::get);
    } catch (SQLException e) {
      throw new IllegalStateException(e);
    }
  }

  /** Whose stamp it is. */
  private Object connection() throws SQLException {
    Connection pooled = handle.getConnection();
    return pooled.isWrapperFor(SQLiteConnection.class)
        ? pooled.unwrap(SQLiteConnection.class)
        : ONE;
  }

  /** The judgement of this row, from its text or as it was made of it before. */
  public ModelJudgement judgement(long model, String at, Supplier<String> text) {
    // In its midst a writer reads what is not kept yet.
    return writes
        ? Json.read(text.get(), ModelJudgement.class)
        : readBefore.judgement(model, at, began, text);
  }

  /** The same without what it rests on. */
  public ModelBrief brief(long model, String at, Supplier<String> text) {
    return writes
        ? Json.read(text.get(), ModelBrief.class)
        : readBefore.brief(model, at, began, text);
  }

  /** The same with the newest sessions of each release alone. */
  public ModelExcerpt excerpt(long model, String at, Supplier<String> text) {
    return writes
        ? ModelExcerpt.of(Json.read(text.get(), ModelJudgement.class), ReadBefore.NEWEST)
        : readBefore.excerpt(model, at, began, text);
  }

  /** A model's judgement is put here. */
  public void judging(long model) {
    judged.add(model);
  }

  /** What answers about this model rest on is changed here. */
  public void moving(long model) {
    moved.model(model);
  }

  /** At its end: whose evidence moved is counted with it. */
  void end() {
    if (writes) moved.count(handle);
  }

  /** What was changed here is kept from now on, and others see it. */
  void kept() {
    judged.forEach(readBefore::put);
    if (changed) readBefore.remembered.changed();
  }

  public boolean writes() {
    return writes;
  }

  public Query query(String sql) {
    return handle.createQuery(sql);
  }

  public Update update(String sql) {
    requireWriting();
    return handle.createUpdate(sql).addCustomizer(new Touched(sql));
  }

  /** Many rows by one statement, and one way to the database and back. */
  public PreparedBatch batch(String sql) {
    requireWriting();
    return handle.prepareBatch(sql).addCustomizer(new Ran(sql));
  }

  /** An update that no answer depends on: that somebody was seen, that a station is alive. */
  public Update updateInPassing(String sql) {
    requireWriting();
    return handle.createUpdate(sql);
  }

  /** An insert or update that ends in {@code returning id}. */
  public Query inserting(String sql) {
    requireWriting();
    change(sql);
    return handle.createQuery(sql);
  }

  public Handle handle() {
    return handle;
  }

  private void requireWriting() {
    if (!writes) throw new IllegalStateException("a reading transaction changes nothing");
  }
}
