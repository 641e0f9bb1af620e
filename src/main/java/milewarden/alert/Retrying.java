package milewarden.alert;

import java.time.Duration;
import milewarden.store.Database;
import milewarden.store.told.Outbox;
import milewarden.store.told.Sending;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** What becomes of a message that didn't go out: a later try, or failed for the tester to see. */
final class Retrying {
  private static final Logger LOG = LoggerFactory.getLogger(Retrying.class);
  // Doubling longer than this is beyond any longest pause.
  private static final int MOST_DOUBLINGS = 20;
  // RFC 5321, section 4.2.1, would have none after a 5yz; a server that is being set up wrongly
  // says it too, so a few are made. The number: the project's own choice, no source.
  private static final int REFUSALS = 5;

  private final Database database;
  private final Duration first;
  private final Duration longest;

  Retrying(Database database, Duration first, Duration longest) {
    this.database = database;
    this.first = first;
    this.longest = longest;
  }

  /**
   * A try failed. A row that was changed meanwhile is left as it is.
   *
   * @param refused true where the receiver's side said that this message is not wanted at all
   */
  void failed(Outbox.Message row, String answer, boolean refused) {
    boolean last = refused && row.attempts() + 1 >= REFUSALS;
    boolean changed =
        database.write(
            tx -> {
              boolean queued =
                  Outbox.find(tx, row.id())
                      .filter(m -> m.state() == Outbox.State.QUEUED)
                      .filter(m -> m.attempts() == row.attempts())
                      .isPresent();
              if (queued && last) Sending.failed(tx, row.id(), answer);
              else if (queued)
                Sending.retry(tx, row.id(), tx.now().plus(pause(row.attempts())), answer);
              return queued;
            });
    if (changed && last)
      LOG.error(
          "message {} was refused for good; it stands on the Alerts page: {}",
          row.messageId(),
          answer);
    else if (changed && row.attempts() == 0)
      LOG.warn("message {} isn't delivered and will be tried again: {}", row.messageId(), answer);
  }

  /** How long after this many failed tries before it the next one comes. */
  Duration pause(int attempts) {
    Duration pause = first;
    for (int i = 0; i < Math.min(attempts, MOST_DOUBLINGS); i++) pause = pause.multipliedBy(2);
    return pause.compareTo(longest) < 0 ? pause : longest;
  }
}
