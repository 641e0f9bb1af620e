package milewarden.store;

import java.sql.SQLException;
import java.util.Optional;
import org.sqlite.SQLiteException;

/** The database can't be used now: what is wrong, where, and what to do. */
public final class StoreUnavailable extends RuntimeException {
  private final Cause kind;

  StoreUnavailable(Cause kind, String sentence, Throwable cause) {
    super(sentence, cause);
    this.kind = kind;
  }

  /** What is wrong. */
  public enum Cause {
    FULL,
    BUSY,
    DAMAGED,
    UNREACHABLE,
    READ_ONLY,
    NEWER,
    OLDER,
    IN_USE
  }

  public Cause kind() {
    return kind;
  }

  /** The world's failure that stands behind an exception; empty where it is our own mistake. */
  public static Optional<StoreUnavailable> behind(Throwable failure, String where) {
    for (Throwable t = failure; t != null; t = t.getCause()) {
      if (t instanceof StoreUnavailable s) return Optional.of(s);
      if (t instanceof SQLiteException s) return sqlite(s, where);
      if (t instanceof SQLException s) {
        Optional<StoreUnavailable> known = state(s, where);
        if (known.isPresent()) return known;
      }
    }
    return Optional.empty();
  }

  // Primary result codes of https://sqlite.org/rescode.html: the low byte of the extended ones.
  private static Optional<StoreUnavailable> sqlite(SQLiteException e, String where) {
    return switch (e.getResultCode().code & 0xff) {
      case 13 -> Optional.of(full(where, e));
      case 5, 6 -> Optional.of(busy(where, e));
      case 11, 26 -> Optional.of(damaged(where, e.getResultCode().message, e));
      case 8 -> Optional.of(readOnly(where, e));
      case 10, 14 -> Optional.of(unreachable(where, e.getResultCode().message, e));
      default -> Optional.empty();
    };
  }

  // SQLSTATE classes, PostgreSQL documentation, appendix A.
  private static Optional<StoreUnavailable> state(SQLException e, String where) {
    String state = e.getSQLState();
    if (state == null) return Optional.empty();
    if (state.equals("53100")) return Optional.of(full(where, e));
    if (state.equals("55P03")) return Optional.of(busy(where, e));
    if (state.equals("25006")) return Optional.of(readOnly(where, e));
    if (state.startsWith("XX00"))
      return Optional.of(damaged(where, String.valueOf(e.getMessage()), e));
    if (state.startsWith("08")
        || state.startsWith("57P")
        || state.startsWith("53")
        || state.startsWith("28")
        || state.equals("3D000"))
      return Optional.of(unreachable(where, String.valueOf(e.getMessage()), e));
    return Optional.empty();
  }

  private static StoreUnavailable full(String where, Throwable e) {
    return new StoreUnavailable(
        Cause.FULL,
        "The disk that holds "
            + where
            + " is full: nothing new can be stored, what is stored is safe."
            + " Make room there; work goes on by itself.",
        e);
  }

  private static StoreUnavailable busy(String where, Throwable e) {
    return new StoreUnavailable(
        Cause.BUSY,
        where
            + " is locked by another program. Close what else has it open"
            + " (a database browser, a copying or backup program); work goes on by itself.",
        e);
  }

  static StoreUnavailable damaged(String where, String detail, Throwable e) {
    return new StoreUnavailable(
        Cause.DAMAGED,
        where
            + " is damaged ("
            + detail
            + "). Nothing was changed. Move the data folder away and keep it, put the last backup into"
            + " an empty one with `milewarden restore FILE`, and drop in again what came since: it"
            + " lies in the old folder's inbox, done and refused.",
        e);
  }

  private static StoreUnavailable readOnly(String where, Throwable e) {
    return new StoreUnavailable(
        Cause.READ_ONLY,
        where + " can't be written. Give the user who runs Milewarden the right to write there.",
        e);
  }

  /** Of a file that was to be written: a copy, say. */
  public static StoreUnavailable unwritable(String where, String detail, Throwable e) {
    return new StoreUnavailable(
        Cause.UNREACHABLE,
        where
            + " can't be written ("
            + detail
            + "). Check that its folder is there and that the server's user may write to it; under"
            + " systemd, that the unit's ReadWritePaths names it.",
        e);
  }

  public static StoreUnavailable unreachable(String where, String detail, Throwable e) {
    return new StoreUnavailable(
        Cause.UNREACHABLE,
        where
            + " can't be opened ("
            + detail
            + "). Check that it is there and that `store.url`, user and password are right.",
        e);
  }
}
