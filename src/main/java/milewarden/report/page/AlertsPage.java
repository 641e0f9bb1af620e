package milewarden.report.page;

import java.util.List;
import milewarden.report.Digits;
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
      long id,
      String subject,
      String when,
      Status state,
      String answer,
      String body,
      boolean again) {}

  /** The page of these messages. */
  public static AlertsPage of(List<Message> messages, int queued, int failed, Digits digits) {
    return new AlertsPage(sentence(messages.size(), queued, failed, digits), messages);
  }

  private static String sentence(int all, int queued, int failed, Digits digits) {
    if (failed > 0)
      return digits.counted(failed, "message")
          + " could not be sent; the server's answer is below.";
    if (queued > 0)
      return digits.counted(queued, "message")
          + (queued == 1 ? " waits" : " wait")
          + " to be sent.";
    return all == 0 ? "Nobody had to be told anything yet." : "Every message was sent.";
  }
}
