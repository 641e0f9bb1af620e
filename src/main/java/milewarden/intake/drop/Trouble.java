package milewarden.intake.drop;

/**
 * Something in the drop folder that can't be taken in as it is now; it stays where it is.
 *
 * @param path from the inbox on, safe to show
 * @param sentence what is wrong and what to do
 */
public record Trouble(String path, String sentence) {}
