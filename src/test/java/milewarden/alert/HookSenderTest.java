package milewarden.alert;

import static org.assertj.core.api.Assertions.assertThat;

import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Deque;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.told.Outbox;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Against a real HTTP server in this process. */
@Timeout(60)
final class HookSenderTest {
  private static final String LONG =
      "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa"
          + "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa"
          + "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa"
          + "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa"
          + "aaaaaa";

  private static final String SECRET = "0123456789abcdef0123456789abcdef";
  private static final String BODY = "{\"text\":\"Fell 2: 1.3 % länger\"}";

  private record Post(String id, String time, String signature, String type, byte[] body) {}

  @TempDir Path data;
  private Instant now = Instant.parse("2026-05-12T07:00:00Z");
  private Database database;
  private HttpServer server;
  private final List<Post> posts = Collections.synchronizedList(new ArrayList<>());
  private final Deque<Integer> statuses = new ArrayDeque<>();

  @BeforeEach
  void open() throws IOException {
    database = Database.open(StoreSettings.in(data), () -> now);
    server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 10);
    server.createContext(
        "/hook",
        http -> {
          posts.add(
              new Post(
                  http.getRequestHeaders().getFirst("Milewarden-Id"),
                  http.getRequestHeaders().getFirst("Milewarden-Timestamp"),
                  http.getRequestHeaders().getFirst("Milewarden-Signature"),
                  http.getRequestHeaders().getFirst("Content-Type"),
                  http.getRequestBody().readAllBytes()));
          int status = statuses.isEmpty() ? 204 : statuses.poll();
          if (status == 302) http.getResponseHeaders().add("Location", "/elsewhere");
          http.sendResponseHeaders(status, -1);
          http.close();
        });
    server.createContext("/elsewhere", http -> posts.add(new Post("", "", "", "", new byte[0])));
    server.start();
    database.change(
        tx ->
            Outbox.queue(
                tx,
                new Outbox.Draft(
                    "due.1.hook@milewarden.invalid",
                    List.of(),
                    "subject",
                    BODY,
                    "",
                    Optional.empty(),
                    Outbox.Channel.HOOK,
                    Optional.empty(),
                    Optional.empty(),
                    List.of())));
  }

  @AfterEach
  void close() {
    server.stop(0);
    database.close();
  }

  private HookSender sender(int port, Duration timeout) {
    URI url = URI.create("http://127.0.0.1:" + port + "/hook");
    return new HookSender(
        database,
        new HookSettings(url, SECRET, timeout),
        Duration.ofMinutes(1),
        Duration.ofHours(1));
  }

  private HookSender sender() {
    return sender(server.getAddress().getPort(), Duration.ofSeconds(10));
  }

  private Outbox.Message row() {
    return database.read(tx -> Outbox.page(tx, Optional.empty(), 10)).get(0);
  }

  // RFC 4231, sections 4.2, 4.3 and 4.7: HMAC-SHA-256 test cases 1, 2 and 6 (a key longer than a
  // block, here of 131 bytes).
  @ParameterizedTest
  @CsvSource({
    "0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b, 4869205468657265,"
        + " b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7",
    "4a656665, 7768617420646f2079612077616e7420666f72206e6f7468696e673f,"
        + " 5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843",
    LONG
        + ", 54657374205573696e67204c6172676572205468616e20426c6f636b2d53697a65204b6579202d"
        + "2048617368204b6579204669727374,"
        + " 60e431591ee0b67f0d8a26aacbf5b77f8e0bc6213728c5140546040f0ee37f54"
  })
  void theHashIsThatOfTheStandard(String key, String text, String hash) {
    HexFormat hex = HexFormat.of();
    assertThat(Signature.hmac(hex.parseHex(key), hex.parseHex(text))).isEqualTo(hex.parseHex(hash));
  }

  @Test
  void anAlertIsPostedOnceAndSignedOverTimeAndBody() throws Exception {
    assertThat(sender().sendDue()).isEqualTo(1);
    assertThat(sender().sendDue()).isZero();
    assertThat(posts).hasSize(1);
    Post post = posts.get(0);
    assertThat(new String(post.body(), StandardCharsets.UTF_8)).isEqualTo(BODY);
    assertThat(post.id()).isEqualTo("due.1.hook@milewarden.invalid");
    assertThat(post.type()).isEqualTo("application/json");
    assertThat(post.time()).isEqualTo(Long.toString(now.getEpochSecond()));
    // As a receiver checks it, from the bytes that came.
    Mac mac = Mac.getInstance("HmacSHA256");
    mac.init(new SecretKeySpec(SECRET.getBytes(StandardCharsets.UTF_8), "HmacSHA256"));
    mac.update((post.time() + ".").getBytes(StandardCharsets.UTF_8));
    assertThat(post.signature())
        .isEqualTo("v1=" + HexFormat.of().formatHex(mac.doFinal(post.body())));
    assertThat(row().state()).isEqualTo(Outbox.State.SENT);
    assertThat(row().answer()).hasValue("HTTP 204");
  }

  @Test
  void aReceiverThatIsInTroubleIsTriedAgainUnderTheSameId() {
    statuses.addAll(List.of(503, 500, 429, 408));
    HookSender sender = sender();
    for (int i = 0; i < 4; i++) {
      assertThat(sender.sendDue()).isZero();
      assertThat(row().state()).isEqualTo(Outbox.State.QUEUED);
      now = row().nextTryAt();
    }
    assertThat(sender.sendDue()).isEqualTo(1);
    assertThat(posts).extracting(Post::id).hasSize(5).containsOnly(row().messageId());
    assertThat(posts).extracting(Post::time).doesNotHaveDuplicates();
  }

  @Test
  void aReceiverThatIsDownDelaysAndNeverLoses() throws Exception {
    int port = server.getAddress().getPort();
    server.stop(0);
    HookSender sender = sender(port, Duration.ofSeconds(5));
    Instant end = now.plus(Duration.ofDays(1));
    while (now.isBefore(end)) {
      assertThat(sender.sendDue()).isZero();
      now = row().nextTryAt();
    }
    assertThat(row().state()).isEqualTo(Outbox.State.QUEUED);
  }

  @Test
  void aReceiverThatWantsNoneEndsAsFailed() {
    HookSender sender = sender();
    for (int i = 0; i < 5; i++) {
      statuses.add(404);
      assertThat(sender.sendDue()).isZero();
      now = now.plus(Duration.ofHours(1));
    }
    assertThat(row().state()).isEqualTo(Outbox.State.FAILED);
    assertThat(row().answer()).hasValue("HTTP 404");
  }

  @Test
  void aRedirectionIsNotFollowed() {
    statuses.add(302);
    assertThat(sender().sendDue()).isZero();
    assertThat(posts).hasSize(1);
    assertThat(row().state()).isEqualTo(Outbox.State.QUEUED);
  }

  @Test
  void aReceiverThatNeverAnswersIsLeft() throws Exception {
    try (ServerSocket mute = new ServerSocket(0, 10, InetAddress.getLoopbackAddress())) {
      assertThat(sender(mute.getLocalPort(), Duration.ofMillis(300)).sendDue()).isZero();
    }
    assertThat(row().state()).isEqualTo(Outbox.State.QUEUED);
    assertThat(row().attempts()).isEqualTo(1);
  }
}
