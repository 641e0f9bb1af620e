package milewarden.report;

/**
 * What a reader sees instead of the page that was asked for.
 *
 * @param title what it is, short
 * @param detail what and where, a sentence or two; may be empty
 * @param remedy what to do, a sentence
 */
public record ProblemPage(String title, String detail, String remedy) {
  /** With these words begins the refusal of what takes another role. */
  public static final String ROLE = "It takes the role ";

  /** Of what can't be read now and is made anew by itself. */
  public static ProblemPage later(String detail) {
    return new ProblemPage(
        "This can't be shown right now.",
        detail,
        "Ask again in an hour. Whoever keeps the server finds more in its log.");
  }

  /** Of a store that can't be used now. */
  public static ProblemPage withoutStore(String detail) {
    return new ProblemPage(
        "The server can't do this right now.",
        detail,
        "Try again in a minute. Whoever keeps the server finds in its log where it lies and what to"
            + " do.");
  }

  /** In words, the answer of this HTTP status (RFC 9110 section 15). */
  public static ProblemPage of(int status, String detail) {
    return switch (status) {
      case 400 ->
          new ProblemPage(
              "This can't be taken as it was sent.",
              detail,
              "Go back and send it again as the form asks.");
      case 401 ->
          new ProblemPage(
              "This server must know who you are.", detail, "Log in at /login, or send a token.");
      case 403 ->
          new ProblemPage(
              detail.startsWith(ROLE)
                  ? "This is not yours to do."
                  : "This form was not sent from a page of this server.",
              detail,
              detail.startsWith(ROLE)
                  ? "Ask a keeper. Nothing was changed."
                  : "Go back, load the page again, and send the form once more. Nothing was"
                      + " changed.");
      case 404 ->
          new ProblemPage(
              "There is no such page.", detail, "Choose a place above, or begin at the overview.");
      case 405 ->
          new ProblemPage("This page can't be asked in that way.", detail, "Choose a place above.");
      case 409 ->
          new ProblemPage(
              "Something changed in the meantime.", detail, "Load the page again and look first.");
      case 413 ->
          new ProblemPage(
              "That is too much at once.",
              detail,
              "Send fewer files at a time, or copy them into the inbox folder: it takes any number.");
      case 421 ->
          new ProblemPage(
              "This server does not answer by that name.",
              detail,
              "Use 127.0.0.1 or localhost, or set public.url in the configuration to the name that"
                  + " readers use.");
      case 429 ->
          new ProblemPage(
              "That is too often.",
              detail,
              "Wait as long as that. Recordings in any number are taken by the inbox folder.");
      case 503 ->
          new ProblemPage("The server can't do this right now.", detail, "Try again in a minute.");
      default ->
          status < 500
              ? new ProblemPage("This can't be done.", detail, "Go back and look at what was sent.")
              : !detail.isEmpty()
                  ? new ProblemPage(
                      "Something in the store can't be read.", detail, DamageWords.remedy())
                  : new ProblemPage(
                      "Something went wrong in the server.",
                      detail,
                      "What you had stored is safe. The server's log says more; try again, and tell us"
                          + " if it stays so.");
    };
  }
}
