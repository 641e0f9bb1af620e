package milewarden.alert;

import java.io.IOException;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.BooleanSupplier;
import milewarden.store.Database;
import milewarden.store.told.Outbox;
import milewarden.store.told.Sending;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Posts the alerts for programs, signed, at least once: what comes twice has one {@code
 * Milewarden-Id}.
 */
public final class HookSender {
  private static final Logger LOG = LoggerFactory.getLogger(HookSender.class);
  private static final Duration LEASE = Duration.ofMinutes(10);
  private static final int BATCH = 20;

  private final Database database;
  private final HookSettings settings;
  private final Retrying retrying;
  private final HttpClient client;

  public HookSender(
      Database database, HookSettings settings, Duration firstRetry, Duration longestRetry) {
    this.database = database;
    this.settings = settings;
    this.retrying = new Retrying(database, firstRetry, longestRetry);
    // Not followed: a redirection would carry the alert to an address that nobody configured.
    this.client =
        HttpClient.newBuilder()
            .connectTimeout(settings.timeout())
            .followRedirects(HttpClient.Redirect.NEVER)
            .version(HttpClient.Version.HTTP_1_1)
            .build();
  }

  private record Claimed(List<Outbox.Message> rows, Instant at) {}

  /** Posts every alert whose time has come; the number of those that were taken. */
  public int sendDue() {
    return sendDue(() -> false);
  }

  /**
   * As {@link #sendDue()}.
   *
   * @param stopping asked after every alert; the others are left for the next start
   */
  public int sendDue(BooleanSupplier stopping) {
    int sent = 0;
    while (!stopping.getAsBoolean()) {
      Claimed claimed =
          database.write(
              tx -> new Claimed(Sending.claim(tx, Outbox.Channel.HOOK, BATCH, LEASE), tx.now()));
      if (claimed.rows().isEmpty()) return sent;
      for (Outbox.Message row : claimed.rows())
        if (!stopping.getAsBoolean() && post(row, claimed.at())) sent++;
    }
    return sent;
  }

  private boolean post(Outbox.Message row, Instant at) {
    CompletableFuture<HttpResponse<@Nullable Void>> answer =
        client.sendAsync(request(row, at), BodyHandlers.discarding());
    try {
      // The request's own timeout ends with the answer's head; this holds for all of it.
      int status =
          answer.get(settings.timeout().toMillis() * 2, TimeUnit.MILLISECONDS).statusCode();
      if (status / 100 == 2) {
        database.change(tx -> Sending.sent(tx, row.id(), "HTTP " + status));
        LOG.info("message {} is posted: HTTP {}", row.messageId(), status);
        return true;
      }
      retrying.failed(row, "HTTP " + status, isRefusal(status));
    } catch (ExecutionException e) {
      retrying.failed(row, words(e), false);
    } catch (TimeoutException e) {
      answer.cancel(true);
      retrying.failed(
          row, "no whole answer within " + settings.timeout().toSeconds() + " s", false);
    } catch (InterruptedException e) {
      // Stopping: the row is free again at the next start.
      Thread.currentThread().interrupt();
      answer.cancel(true);
    }
    return false;
  }

  private static String words(ExecutionException failure) {
    Throwable cause = failure.getCause() instanceof IOException io ? io : failure;
    String message = cause.getMessage();
    return message == null ? cause.getClass().getSimpleName() : message;
  }

  // RFC 9110, section 15.5: the client's own fault; 408 and 429 ask for a later try.
  private static boolean isRefusal(int status) {
    return status / 100 == 4 && status != 408 && status != 429;
  }

  private HttpRequest request(Outbox.Message row, Instant at) {
    long seconds = at.getEpochSecond();
    return HttpRequest.newBuilder(settings.url())
        .timeout(settings.timeout())
        .header("Content-Type", "application/json")
        .header("Milewarden-Id", row.messageId())
        .header("Milewarden-Timestamp", Long.toString(seconds))
        .header(
            "Milewarden-Signature", "v1=" + Signature.of(settings.secret(), seconds, row.text()))
        .POST(BodyPublishers.ofString(row.text()))
        .build();
  }
}
