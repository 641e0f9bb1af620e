package milewarden.report.page.settings;

/**
 * Who is it?
 *
 * @param next where it goes on
 * @param name as it was typed
 * @param refusal why not; empty where nothing was tried
 * @param nobody true where nobody can come in yet
 */
public record LoginPage(String next, String name, String refusal, boolean nobody) {}
