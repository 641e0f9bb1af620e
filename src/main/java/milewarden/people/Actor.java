package milewarden.people;

/**
 * Who changes something.
 *
 * @param name of the person or the token; empty where there is none
 */
public record Actor(Kind kind, String name) {
  /** What kind of hand it is. */
  public enum Kind {
    PERSON,
    TOKEN,
    /** Somebody at this machine, where nobody has a passphrase. */
    MACHINE,
    COMMAND,
    /** The program itself: a file in a folder, a work at its time. */
    SERVER
  }

  public static final Actor THIS_MACHINE = new Actor(Kind.MACHINE, "");
  public static final Actor COMMAND_LINE = new Actor(Kind.COMMAND, "");
  public static final Actor SERVER = new Actor(Kind.SERVER, "");

  public static Actor person(String name) {
    return new Actor(Kind.PERSON, name);
  }

  public static Actor token(String name) {
    return new Actor(Kind.TOKEN, name);
  }

  /** How the record of changes names it. */
  public String words() {
    return switch (kind) {
      case PERSON -> name;
      case TOKEN -> "token " + name;
      case MACHINE -> "this machine";
      case COMMAND -> "command line";
      case SERVER -> "the server";
    };
  }
}
