package milewarden.accuracy;

/** The version of the method: a number that moves when any result would. */
public final class Engine {
  /** Results name it; a change of it makes new results beside the old ones. */
  public static final String VERSION = "5";

  private Engine() {}
}
