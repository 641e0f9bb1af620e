package milewarden.web;

/**
 * The one record that a template takes.
 *
 * @param page what the page says, a record of {@code report}
 * @param frame what stands around every page
 * @param csrf the value of the field {@code csrf} in every form
 * @param data the charts' data as JSON, safe within a script element; {@code {}} where there is
 *     none
 */
public record Shown<P>(P page, Frame frame, String csrf, String data) {}
