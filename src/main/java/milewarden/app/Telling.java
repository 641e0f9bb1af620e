package milewarden.app;

import java.net.URI;
import java.util.Optional;
import milewarden.alert.HookSender;
import milewarden.alert.MailSender;
import milewarden.app.config.Config;
import milewarden.recipient.Audience;
import milewarden.review.Review;
import milewarden.schedule.Clockwork;
import milewarden.store.Database;

/** Who judges and tells, as the configuration says: the review, the mail and the web hook. */
record Telling(Config config, Database database) {
  /**
   * @param wakeSenders called after a message was queued and committed
   */
  Review review(Runnable wakeSenders) {
    return new Review(
        database,
        config.policy(),
        config.zone(),
        ReaderDigits.of(config),
        config.publicUrl().map(Telling::withoutSlash),
        audience(),
        wakeSenders);
  }

  MailSender mail() {
    return new MailSender(database, config.mail(), config.data().resolve("outbox"));
  }

  Optional<HookSender> hook() {
    return config
        .hook()
        .map(
            h ->
                new HookSender(
                    database, h, config.mail().firstRetry(), config.mail().longestRetry()));
  }

  /** Sends what is due. */
  void deliver() {
    mail().sendDue();
    hook().ifPresent(HookSender::sendDue);
  }

  void wakeSenders(Clockwork clockwork) {
    clockwork.wake("outbox");
    if (config.hook().isPresent()) clockwork.wake("hook");
  }

  Audience audience() {
    return new Audience(config.mail().to(), config.zone(), config.hook().isPresent());
  }

  /** How messages leave, in a sentence. */
  String leaves() {
    return config
        .mail()
        .server()
        .map(s -> "Mail leaves by " + s.host() + ", port " + s.port() + ".")
        .orElse(
            "No mail server is configured: messages are kept as files in "
                + config.data().resolve("outbox").toAbsolutePath().normalize()
                + ".");
  }

  private static String withoutSlash(URI address) {
    String text = address.toString();
    return text.endsWith("/") ? text.substring(0, text.length() - 1) : text;
  }
}
