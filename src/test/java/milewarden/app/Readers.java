package milewarden.app;

import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;

/** People who ask for one page after another, so many a second, whatever the server is at. */
final class Readers implements AutoCloseable {
  private static final List<String> PAGES = List.of("/", "/due", "/intake", "/settings", "/alerts");
  // Who waits for so many answers asks for no more.
  private static final int MOST_OPEN = 64;

  private final HttpClient client = HttpClient.newHttpClient();
  private final ScheduledExecutorService beat = Executors.newSingleThreadScheduledExecutor();
  private final String address;
  private final AtomicInteger asked = new AtomicInteger();
  private final AtomicInteger open = new AtomicInteger();
  private final AtomicInteger served = new AtomicInteger();
  private final AtomicInteger failed = new AtomicInteger();
  private final AtomicLong longestMs = new AtomicLong();

  /**
   * @param address without a slash at its end
   */
  Readers(String address, int aSecond) {
    this.address = address;
    beat.scheduleAtFixedRate(this::ask, 0, 1_000_000 / aSecond, TimeUnit.MICROSECONDS);
  }

  private void ask() {
    if (open.get() >= MOST_OPEN) return;
    open.incrementAndGet();
    String page = PAGES.get(asked.getAndIncrement() % PAGES.size());
    long from = System.nanoTime();
    client
        .sendAsync(
            HttpRequest.newBuilder(URI.create(address + page))
                .timeout(Duration.ofSeconds(60))
                .build(),
            BodyHandlers.discarding())
        .whenComplete(
            (answer, failure) -> {
              open.decrementAndGet();
              longestMs.accumulateAndGet((System.nanoTime() - from) / 1_000_000, Math::max);
              if (failure == null && answer.statusCode() == 200) served.incrementAndGet();
              else failed.incrementAndGet();
            });
  }

  int served() {
    return served.get();
  }

  /** Answers other than 200, and none at all. */
  int failed() {
    return failed.get();
  }

  long longestMs() {
    return longestMs.get();
  }

  /** Asks no more, and lets those that were asked be answered. */
  @Override
  public void close() {
    beat.shutdownNow();
    Await.until("the last pages", open::get, () -> open.get() == 0);
  }
}
