package milewarden.report.page.settings;

/**
 * Who am I here?
 *
 * @param signedIn true where there is a passphrase to change
 * @param said of what was tried; empty where nothing was
 * @param done true where it was done
 */
public record AccountPage(String name, String role, boolean signedIn, String said, boolean done) {}
