package milewarden.report;

/**
 * What readers are told of a store that can't be used. Whoever asks may have no right to know where
 * it lies, and who they are can't be looked up without it: the log names the place.
 */
public final class StoreWords {
  private StoreWords() {}

  public static String full() {
    return "The disk that holds the store is full: nothing new can be stored, what is stored is"
        + " safe.";
  }

  public static String busy() {
    return "The store is locked by another program. What is stored is safe.";
  }

  public static String readOnly() {
    return "The store can't be written. What is stored is safe.";
  }

  public static String damaged() {
    return "The store is damaged.";
  }

  public static String unreachable() {
    return "The store can't be reached.";
  }
}
