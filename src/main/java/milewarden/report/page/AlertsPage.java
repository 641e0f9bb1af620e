package milewarden.report.page;

import java.util.List;
import milewarden.report.Status;

/** Who was told? */
public record AlertsPage(String sentence, List<Message> messages) {
  public AlertsPage {
    messages = List.copyOf(messages);
  }

  /**
   * A message.
   *
   * @param answer of the server, or where the file lies
   * @param body as text
   */
  public record Message(
      long id, String subject, String when, Status state, String answer, String body, boolean again) {}
}
