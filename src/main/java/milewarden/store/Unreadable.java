package milewarden.store;

/** A record in the store is damaged: its text does not say what it has to. */
public final class Unreadable extends IllegalStateException {
  private static final long serialVersionUID = 1;

  private final String record;

  /**
   * A damaged record.
   *
   * @param record the name of its type
   */
  public Unreadable(String record, Throwable cause) {
    super("stored " + record + " can't be read", cause);
    this.record = record;
  }

  /** The name of the record's type. */
  public String record() {
    return record;
  }
}
