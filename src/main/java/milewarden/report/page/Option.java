package milewarden.report.page;

/**
 * A choice that a form offers.
 *
 * @param code what is sent
 * @param words what is read
 */
public record Option(String code, String words) {}
