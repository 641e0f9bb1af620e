package milewarden.app;

/** The program's entry. */
public final class Main {
  private Main() {}

  public static void main(String[] args) {
    System.err.println("milewarden: nothing here yet");
    System.exit(3);
  }
}
