package milewarden.report.page;

/**
 * A link among its like: a pass of the recording, a state that a list is narrowed to.
 *
 * @param words what is read
 * @param link where it leads
 * @param here whether the reader stands there
 */
public record PageLink(String words, String link, boolean here) {}
