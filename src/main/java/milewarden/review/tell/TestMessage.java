package milewarden.review.tell;

import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.report.mail.TestMail;
import milewarden.store.Tx;
import milewarden.store.told.Outbox;

/** Queues a message by which somebody sees that messages come; quiet hours don't hold it up. */
public final class TestMessage {
  private TestMessage() {}

  /** By mail. */
  public static void toAddress(Tx tx, String address, Digits digits) {
    TestMail mail = TestMail.of(address, tx.now(), digits);
    queue(tx, "mail", mail, mail.text(), mail.html(), Outbox.Channel.MAIL, Optional.of(address));
  }

  /** By the webhook. */
  public static void toHook(Tx tx, Digits digits) {
    TestMail mail = TestMail.of("the webhook", tx.now(), digits);
    String body =
        new HookBody(id(tx, "hook"), "test", tx.now(), mail.subject(), Optional.empty(), List.of())
            .json();
    queue(tx, "hook", mail, body, "", Outbox.Channel.HOOK, Optional.empty());
  }

  private static String id(Tx tx, String kind) {
    return "test." + kind + "." + tx.now().toEpochMilli() + "@milewarden.invalid";
  }

  private static void queue(
      Tx tx,
      String kind,
      TestMail mail,
      String text,
      String html,
      Outbox.Channel channel,
      Optional<String> to) {
    Outbox.queue(
        tx,
        new Outbox.Draft(
            id(tx, kind),
            List.of(),
            mail.subject(),
            text,
            html,
            Optional.empty(),
            channel,
            to,
            Optional.empty(),
            List.of()));
  }
}
