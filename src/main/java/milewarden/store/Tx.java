package milewarden.store;

import java.time.Instant;
import java.time.temporal.ChronoUnit;
import milewarden.people.Actor;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.statement.Query;
import org.jdbi.v3.core.statement.Update;

/** A transaction under way and its one instant. Good only inside the call that it was given to. */
public final class Tx {
  private final Handle handle;
  private final Instant now;
  private final boolean writes;
  private final String station;
  private final Actor by;
  private final ReadBefore readBefore;

  public Tx(Handle handle, Instant now, boolean writes, String station, Actor by, ReadBefore readBefore) {
    this.handle = handle;
    this.now = now.truncatedTo(ChronoUnit.MILLIS);
    this.writes = writes;
    this.station = station;
    this.by = by;
    this.readBefore = readBefore;
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

  public Query query(String sql) {
    return handle.createQuery(sql);
  }

  public Update update(String sql) {
    requireWriting();
    return handle.createUpdate(sql);
  }

  /** An insert or update that ends in {@code returning id}. */
  public Query inserting(String sql) {
    requireWriting();
    return handle.createQuery(sql);
  }

  public Handle handle() {
    return handle;
  }

  private void requireWriting() {
    if (!writes) throw new IllegalStateException("a reading transaction changes nothing");
  }
}
