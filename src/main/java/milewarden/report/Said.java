package milewarden.report;

/**
 * Something that went wrong, in words for people.
 *
 * @param what what it is, a sentence
 * @param where a line, a byte, a pass; may be empty
 * @param remedy what to do, a sentence
 */
public record Said(String what, String where, String remedy) {

  /** All of it on one line: {@code Line 812: the file breaks off. Copy it again.} */
  public String sentence() {
    String at = where.isEmpty() ? "" : Words.capital(where) + ": ";
    String start = at.isEmpty() ? what : at + Words.small(what);
    return remedy.isEmpty() ? start : start + " " + remedy;
  }
}
