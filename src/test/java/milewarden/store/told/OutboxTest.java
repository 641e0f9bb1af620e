package milewarden.store.told;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import milewarden.store.Database;
import milewarden.store.Id.MessageId;
import milewarden.store.Samples;
import milewarden.store.TestStores;
import milewarden.store.told.Outbox.Message;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.Parameter;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.EnumSource;

/** Messages until they are sent, on both databases. */
@ParameterizedClass
@EnumSource(TestStores.class)
final class OutboxTest {
  private static final Duration LEASE = Duration.ofSeconds(60);

  @Parameter TestStores stores;
  @TempDir Path folder;
  private Database database;
  private Instant now = Samples.T0;

  @BeforeEach
  void open() {
    database = stores.open(folder, () -> now);
  }

  @AfterEach
  void close() {
    database.close();
  }

  private void queue(String id, byte[] picture) {
    database.change(
        tx ->
            Outbox.queue(
                tx, id, Optional.empty(), "Subject", "text", "<p>", Optional.ofNullable(picture)));
  }

  private List<Message> claim() {
    return database.write(tx -> Sending.claim(tx, Outbox.Channel.MAIL, 10, LEASE));
  }

  @Test
  void aMessageIsQueuedOnceUnderItsId() {
    queue("<1@milewarden.invalid>", new byte[] {1, 2});
    queue("<1@milewarden.invalid>", new byte[] {3});
    List<Message> page = database.read(tx -> Outbox.page(tx, Optional.empty(), 10));
    assertThat(page).hasSize(1);
    MessageId id = page.get(0).id();
    Optional<byte[]> picture = database.read(tx -> Outbox.picture(tx, id));
    assertThat(picture).hasValue(new byte[] {1, 2});
  }

  @Test
  void aMessageWithoutAPictureHasNone() {
    queue("<1@milewarden.invalid>", null);
    MessageId id = claim().get(0).id();
    Optional<byte[]> picture = database.read(tx -> Outbox.picture(tx, id));
    assertThat(picture).isEmpty();
  }

  @Test
  void aMessageThatFailedComesBackAtItsTimeAndNotBefore() {
    queue("<1@milewarden.invalid>", null);
    Message first = claim().get(0);
    assertThat(claim()).as("claimed").isEmpty();
    Instant next = now.plusSeconds(300);
    database.change(tx -> Sending.retry(tx, first.id(), next, "421 try later"));
    assertThat(claim()).isEmpty();
    Optional<Instant> due = database.read(Sending::nextTry);
    assertThat(due).hasValue(next);
    now = next;
    Message second = claim().get(0);
    assertThat(second.attempts()).isEqualTo(1);
    assertThat(second.answer()).hasValue("421 try later");
    assertThat(second.messageId()).isEqualTo(first.messageId());
    database.change(tx -> Sending.sent(tx, second.id(), "250 ok"));
    now = now.plusSeconds(3600);
    assertThat(claim()).isEmpty();
    Message sent = database.read(tx -> Outbox.find(tx, second.id())).orElseThrow();
    assertThat(sent.state()).isEqualTo(Outbox.State.SENT);
    assertThat(sent.sentAt()).hasValue(next);
  }

  @Test
  void aMessageWhoseSenderDiedIsClaimedAgain() {
    queue("<1@milewarden.invalid>", null);
    assertThat(claim()).hasSize(1);
    now = now.plus(LEASE);
    assertThat(claim()).hasSize(1);
    database.change(Sending::releaseClaims);
    assertThat(claim()).hasSize(1);
  }

  @Test
  void theTesterSendsAFailedMessageAgain() {
    queue("<1@milewarden.invalid>", null);
    MessageId id = claim().get(0).id();
    database.change(tx -> Sending.failed(tx, id, "550 no such user"));
    int failed = database.read(tx -> Outbox.count(tx, Outbox.State.FAILED));
    assertThat(failed).isEqualTo(1);
    assertThat(claim()).isEmpty();
    database.change(tx -> Outbox.again(tx, id));
    assertThat(claim()).hasSize(1);
  }
}
