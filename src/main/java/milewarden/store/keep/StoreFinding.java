package milewarden.store.keep;

/**
 * Something in the store that is not as it was written.
 *
 * @param what is wrong, with its place, as a sentence
 */
public record StoreFinding(Kind kind, String what) {
  /** What kind of thing is wrong. */
  public enum Kind {
    /** The database's own pages or indexes. */
    DATABASE,
    /** Bytes that were given to us differ from their hash, or are gone. */
    BYTES,
    /** A row names another that is not there. */
    REFERENCE,
    /** A record can't be read. */
    RECORD
  }

  /** What to do about it, as a sentence. */
  public String remedy() {
    return switch (kind) {
      case DATABASE ->
          "Stop the server, move the data folder away and keep it, put the last backup that"
              + " verifies into an empty one with `milewarden restore FILE`, and drop in again what"
              + " came since: it lies in the old folder's inbox, done and refused.";
      case BYTES ->
          "Give the same file in again if you have it still: it is stored anew where its bytes are"
              + " gone. Else take it from a backup.";
      case REFERENCE, RECORD ->
          "Keep a copy of the data folder. Put the last backup that verifies into an empty folder"
              + " and give in what came since; nothing was changed by this check.";
    };
  }

  static StoreFinding of(Kind kind, String what) {
    return new StoreFinding(kind, what);
  }
}
