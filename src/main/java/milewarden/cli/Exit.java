package milewarden.cli;

/** The exit codes of every command. */
public final class Exit {
  public static final int DONE = 0;

  /** Done, and there is something to look at: a regression, a refusal. */
  public static final int FINDINGS = 1;

  public static final int WRONG_USE = 2;
  public static final int FAILURE = 3;

  private Exit() {}
}
