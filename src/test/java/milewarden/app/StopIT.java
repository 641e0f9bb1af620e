package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.file.Batches;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.judged.DueItems;
import milewarden.store.told.Outbox;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A server that is asked to stop in the middle of its work stops within 5 s, whatever it is at, and
 * its next start goes on with that.
 */
final class StopIT {
  private static final double LONGEST_S = 5;

  @TempDir Path folder;
  private final Map<String, byte[]> dropped = new TreeMap<>();
  private Household house;

  @BeforeEach
  void furnish() throws IOException {
    house = new Household(folder);
  }

  private void drop(int first, int n, String firmware, String shownKm) throws IOException {
    StringBuilder rows = new StringBuilder();
    String at = "from " + first + "/";
    for (int i = first; i < first + n; i++) {
      String walk = "walk " + i + ".gpx";
      rows.append(Household.row("S" + i, Household.day(i), walk, firmware, shownKm));
      put(at + walk, Household.track(Household.day(i), i));
    }
    put(at + "session.csv", Household.sheet(rows.toString()));
  }

  private void put(String path, byte[] bytes) throws IOException {
    house.drop(path, bytes);
    dropped.put(path, bytes);
  }

  private Database look() {
    return Database.open(StoreSettings.in(house.data), InstantSource.system());
  }

  private static int received(Database database) {
    return database.read(ReceivedFiles::counts).values().stream().mapToInt(n -> n).sum();
  }

  private boolean isQuiet(Database database) {
    return house.files("inbox").isEmpty()
        && received(database) >= dropped.size()
        && database.read(Batches::isQuiet)
        && database.read(DueItems::untold).isEmpty();
  }

  /** A mail server that takes the call and never says a word. */
  private static void fallSilent(ServerSocket server, List<Socket> calls) {
    Thread thread =
        new Thread(
            () -> {
              try {
                while (true) calls.add(server.accept());
              } catch (IOException e) {
                // The test is over.
              }
            });
    thread.setDaemon(true);
    thread.start();
  }

  private static InputStream listen(String address) throws IOException, InterruptedException {
    return HttpClient.newHttpClient()
        .send(
            HttpRequest.newBuilder(URI.create(address + "/live")).build(),
            BodyHandlers.ofInputStream())
        .body();
  }

  @Test
  void inTheMiddleOfABatchOfALargeFileOfAMailAndWithPagesOpen() throws Exception {
    int port;
    try (ServerSocket silent = new ServerSocket(0, 50, InetAddress.getLoopbackAddress())) {
      port = silent.getLocalPort();
      List<Socket> calls = new CopyOnWriteArrayList<>();
      fallSilent(silent, calls);
      house.configure(
          "mail: {host: 127.0.0.1, port: %d, security: none, to: [one@tests.example], timeout: 60 s}"
              .formatted(port));
      drop(0, 4, "1.0", "0.401");
      drop(10, 4, "2.0", "0.412");
      Child child = Child.start(house, "-Xmx256m");
      assertThat(child.serves()).as(child.said()).isTrue();
      Matcher address = Pattern.compile("http://127.0.0.1:\\d+").matcher(child.said());
      assertThat(address.find()).isTrue();
      List<InputStream> pages = new ArrayList<>();
      for (int i = 0; i < 8; i++) pages.add(listen(address.group()));
      try (Database database = look()) {
        Await.until("a mail is being delivered", child::said, () -> !calls.isEmpty());
        put("long.gpx", longTrack());
        drop(100, 300, "3.0", "0.412");
        int before = received(database);
        Await.until("the batch is being read", child::said, () -> received(database) > before + 70);
      }
      assertThat(child.stopS()).as(child.said()).isLessThan(LONGEST_S);
      for (InputStream page : pages) page.close();
      for (Socket call : calls) call.close();
    }
    goesOn(port);
  }

  // Near the largest that so little memory takes, and slow to measure: 200,000 fixes.
  private static byte[] longTrack() {
    String walk =
        new String(Household.track(Household.day(50), 50), StandardCharsets.UTF_8)
            .replaceAll("(?s)</?gpx[^>]*>|<[?]xml[^>]*>", "");
    Matcher segment = Pattern.compile("(?s)<trkseg>.*?</trkseg>").matcher(walk);
    assertThat(segment.find()).isTrue();
    StringBuilder all = new StringBuilder(segment.group());
    while (all.length() < 24_000_000) all.append(segment.group());
    return ("<gpx version=\"1.1\" creator=\"t\" xmlns=\"http://www.topografix.com/GPX/1/1\"><trk>"
            + all
            + "</trk></gpx>")
        .getBytes(StandardCharsets.UTF_8);
  }

  @Test
  void whileAnotherProgramHoldsTheStore() throws Exception {
    int port;
    try (ServerSocket free = new ServerSocket(0)) {
      port = free.getLocalPort();
    }
    house.configure(
        "mail: {host: 127.0.0.1, port: %d, security: none, to: [one@tests.example]}"
            .formatted(port));
    drop(0, 4, "1.0", "0.401");
    drop(10, 4, "2.0", "0.412");
    Child child = Child.start(house, "-Xmx256m");
    assertThat(child.serves()).as(child.said()).isTrue();
    try (Database database = look()) {
      Await.until("the first files", child::said, () -> isQuiet(database));
    }
    try (Connection other =
            DriverManager.getConnection("jdbc:sqlite:" + house.data.resolve("milewarden.db"));
        Statement statement = other.createStatement()) {
      statement.execute("pragma busy_timeout = 60000");
      statement.execute("begin immediate");
      drop(100, 20, "3.0", "0.412");
      Await.until("a writer waits", child::said, () -> isAtWork(child));
      assertThat(child.stopS()).as(child.said()).isLessThan(LONGEST_S);
      statement.execute("rollback");
    }
    goesOn(port);
  }

  // Its inbox is seen and its store is not to be had: the log says so at the end of the wait.
  private boolean isAtWork(Child child) {
    return child.said().contains("locked");
  }

  private static boolean isFree(int port) {
    try (ServerSocket tried = new ServerSocket(port, 1, InetAddress.getLoopbackAddress())) {
      return tried.isBound();
    } catch (IOException e) {
      return false;
    }
  }

  private void goesOn(int port) throws Exception {
    // Another program may have been given the port for a moment meanwhile.
    Await.until("the port is free", () -> "port " + port, () -> isFree(port));
    GreenMail server = new GreenMail(new ServerSetup(port, "127.0.0.1", "smtp"));
    server.start();
    Child child = Child.start(house, "-Xmx256m");
    try (Database database = look()) {
      assertThat(child.serves()).as(child.said()).isTrue();
      Await.until(
          "all is taken in and told",
          () -> database.read(ReceivedFiles::counts) + child.said(),
          () ->
              isQuiet(database) && database.read(tx -> Outbox.count(tx, Outbox.State.QUEUED)) == 0);
      dropped.remove("long.gpx");
      assertThat(Losses.of(house, dropped, database, List.of(server.getReceivedMessages())))
          .isEmpty();
    } catch (UncheckedIOException e) {
      throw new AssertionError(child.said(), e);
    } finally {
      child.kill();
      server.stop();
    }
  }
}
