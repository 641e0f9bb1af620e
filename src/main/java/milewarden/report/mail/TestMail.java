package milewarden.report.mail;

import java.time.Instant;
import milewarden.report.Digits;

/** The message that only shows that messages come. */
public record TestMail(String subject, String text, String html) {
  public static TestMail of(String to, Instant at, Digits digits) {
    String sentence =
        "This is the test message that was asked for on "
            + digits.moment(at)
            + ". Messages to "
            + to
            + " arrive.";
    String foot = "Nothing is due because of it. What is due comes in messages of its own.";
    String html =
        "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"></head>"
            + "<body style=\"font-family:sans-serif;line-height:1.5\"><p>"
            + MailHtml.escaped(sentence)
            + "</p><p>"
            + foot
            + "</p></body></html>\n";
    return new TestMail(
        "Test message of Milewarden",
        MailText.wrapped(sentence, "") + "\n" + MailText.wrapped(foot, ""),
        html);
  }
}
