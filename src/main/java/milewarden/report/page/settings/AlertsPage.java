package milewarden.report.page.settings;

import java.util.List;
import milewarden.report.DamageWords;
import milewarden.report.Digits;
import milewarden.report.Status;
import milewarden.report.page.PageLink;

/**
 * Who was told, and who has seen it?
 *
 * @param written true where there is any message at all
 * @param states which messages are shown, and which could be
 * @param unread of whom the choice is damaged, and what to do; empty text where of nobody
 */
public record AlertsPage(
    String sentence,
    boolean written,
    List<Item> open,
    List<PageLink> states,
    List<Message> messages,
    String unread) {
  public AlertsPage {
    open = List.copyOf(open);
    states = List.copyOf(states);
    messages = List.copyOf(messages);
  }

  /**
   * Something open that was told.
   *
   * @param handled by whom it was acknowledged, until when it is put off
   * @param link to the form that does either
   */
  public record Item(String subject, Status severity, Status state, String handled, String link) {}

  /**
   * A message.
   *
   * @param to the receiver
   * @param answer of the server, or where the file lies
   * @param waits when a queued one leaves
   * @param body as text
   */
  public record Message(
      long id,
      String subject,
      String to,
      String when,
      Status state,
      String answer,
      String waits,
      String body,
      boolean again) {}

  /** The page of these messages. */
  public static AlertsPage of(
      List<Item> open,
      List<PageLink> states,
      List<Message> messages,
      int queued,
      int failed,
      int sent,
      boolean toSomebody,
      Digits digits) {
    return new AlertsPage(
        sentence(queued, failed, sent, toSomebody, digits),
        queued + failed + sent > 0,
        open,
        states,
        messages,
        "");
  }

  /** The same where some receivers' choices are damaged. */
  public AlertsPage without(List<String> addresses) {
    return addresses.isEmpty()
        ? this
        : new AlertsPage(
            sentence,
            written,
            open,
            states,
            messages,
            DamageWords.choices(String.join(", ", addresses)));
  }

  private static String sentence(
      int queued, int failed, int sent, boolean toSomebody, Digits digits) {
    if (failed > 0)
      return digits.counted(failed, "message")
          + " could not be sent; the server's answer is below.";
    if (queued > 0)
      return digits.counted(queued, "message")
          + (queued == 1 ? " waits" : " wait")
          + " to be sent.";
    if (sent == 0) return "Nobody had to be told anything yet.";
    return toSomebody
        ? "Every message was sent."
        : "Every message was kept as a file: nobody is named to be told.";
  }
}
