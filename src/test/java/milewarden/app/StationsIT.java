package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import jakarta.mail.internet.MimeMessage;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.BooleanSupplier;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import milewarden.accuracy.Engine;
import milewarden.store.Database;
import milewarden.store.Stations;
import milewarden.store.StoreSettings;
import milewarden.store.TestStores;
import milewarden.store.file.Batches;
import milewarden.store.file.Contents;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.Marks;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;
import milewarden.store.told.Outbox;
import milewarden.verdict.Comparison;
import milewarden.verdict.Look;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Three servers, each a process on a data folder of its own, share one PostgreSQL and a batch of
 * recordings. One is killed in the middle and comes back, one is cut off from the database until
 * the others have taken over what it held, and comes back too.
 */
final class StationsIT {
  private static final int UNITS = 20;
  private static final int DAYS = 100;
  private static final int FILES = UNITS * DAYS;
  // The first so many days' recordings of the last unit are dropped on every station.
  private static final int COPIED = 5;
  private static final String HEAD =
      "session,date,time,file,unit,firmware,course,carriage,gait,shown,shown_unit\n";

  @TempDir Path folder;
  private final GreenMail post =
      new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));
  private final List<Station> stations = new ArrayList<>();
  private final Map<String, byte[]> tracks = new TreeMap<>();

  @BeforeEach
  void makeTracks() {
    post.start();
    post.setUser("tester@milewarden.example", "tester", "any");
    for (int day = 0; day < DAYS; day++)
      for (int unit = 0; unit < UNITS; unit++)
        tracks.put(path(day, unit), Household.track(start(day), day * 100L + unit));
  }

  @AfterEach
  void stop() throws Exception {
    for (Station station : stations) if (station.isAlive()) station.kill();
    post.stop();
  }

  @Test
  void threeStationsDoEverythingOnceAndDecideAsOneAlone() throws Exception {
    StoreSettings store = TestStores.POSTGRES.fresh(folder);
    try (Wire wire = new Wire(port(store));
        Database database = Database.open(store, InstantSource.system())) {
      for (int i = 0; i < 3; i++)
        stations.add(station("station " + i, store, i == 2 ? wire : null));
      for (Station station : stations) station.start();
      for (int i = 0; i < 3; i++) drop(stations.get(i), i, 3);
      Station killed = stations.get(1);
      waitFor(database, "a quarter is measured", () -> measured(database) > FILES / 4);
      killed.kill();
      waitFor(database, "half is measured", () -> measured(database) > FILES / 2);
      wire.cut();
      killed.start();
      // The killed one's name is replaced at once, that of the one cut off after its silence.
      waitFor(database, "two stations are left", () -> database.read(Stations::all).size() == 2);
      wire.mend();
      waitFor(database, "three are there", () -> database.read(Stations::all).size() == 3);
      waitFor(database, "all is quiet", () -> quiet(database));
      everyFileOnce(database);
      everyRunOnce(database);
      everyMessageUnderOneId(database);
      assertThat(decisions(database)).isEqualTo(decidedAlone());
    }
  }

  private String decidedAlone() throws Exception {
    Station alone = station("alone", StoreSettings.in(folder.resolve("alone/data")), null);
    stations.add(alone);
    drop(alone, 0, 1);
    alone.start();
    try (Database database =
        Database.open(StoreSettings.in(alone.house.data), InstantSource.system())) {
      waitFor(database, "one alone is quiet", () -> quiet(database));
      return decisions(database);
    }
  }

  private Station station(String name, StoreSettings store, Wire wire) throws IOException {
    List<String> lines = new ArrayList<>();
    lines.add(
        "mail: {host: 127.0.0.1, port: "
            + post.getSmtp().getPort()
            + ", security: none, from: milewarden@milewarden.example,"
            + " to: [tester@milewarden.example]}");
    store
        .url()
        .map(u -> wire == null ? u : u.replaceFirst(":\\d+/", ":" + wire.port() + "/"))
        .ifPresent(u -> lines.add("store: {url: \"" + u + "\", user: postgres}"));
    return new Station(folder.resolve(name), lines);
  }

  static int port(StoreSettings store) {
    var port = Pattern.compile(":(\\d+)/").matcher(store.url().orElseThrow());
    assertThat(port.find()).isTrue();
    return Integer.parseInt(port.group(1));
  }

  private static Instant start(int day) {
    return Household.day(day).minusSeconds(300L * 86_400);
  }

  private static String path(int day, int unit) {
    return "day %02d/U%02d.gpx".formatted(day, unit);
  }

  // Every session is spread over the stations; each has the sheet of what lies there.
  private void drop(Station at, int part, int of) throws IOException {
    for (int day = 0; day < DAYS; day++) {
      StringBuilder rows = new StringBuilder(HEAD);
      for (int unit = 0; unit < UNITS; unit++) {
        boolean copied = unit == UNITS - 1 && day < COPIED;
        if (unit % of != part && !copied) continue;
        at.house.drop(path(day, unit), tracks.get(path(day, unit)));
        rows.append(row(day, unit));
      }
      at.house.drop(
          "day %02d/session.csv".formatted(day), rows.toString().getBytes(StandardCharsets.UTF_8));
    }
  }

  private static String row(int day, int unit) {
    String at = start(day).toString();
    // To the decimetre, so that the display decides; the second release of every other unit reads
    // long by a hundredth.
    boolean late = day >= DAYS / 2;
    String shown = (late && unit % 2 == 0 ? "0.404" : "0.400") + (day * 7 + unit) % 4;
    return "S%02d,%s,%s,U%02d.gpx,U%02d,%s,pier,hand,walk,%s,km%n"
        .formatted(
            day,
            at.substring(0, 10),
            at.substring(11, 16),
            unit,
            unit,
            late ? "2.0" : "1.0",
            shown);
  }

  private void waitFor(Database database, String what, BooleanSupplier condition) {
    Await.until(
        what,
        () ->
            database.read(ReceivedFiles::counts)
                + ", marks "
                + database.read(Marks::count)
                + ", stations "
                + database.read(Stations::all)
                + "\n"
                + stations.stream()
                    .map(s -> String.join("\n", s.said()))
                    .collect(Collectors.joining("\n---\n")),
        condition);
  }

  private static int measured(Database database) {
    return database.read(ReceivedFiles::counts).getOrDefault(State.MEASURED, 0);
  }

  private boolean quiet(Database database) {
    return stations.stream()
            .filter(Station::isAlive)
            .allMatch(s -> s.house.files("inbox").isEmpty())
        && database.read(Batches::isQuiet)
        && !database.read(Marks::looksCanBeTaken)
        && database.read(DueItems::untold).isEmpty()
        && database.read(tx -> Outbox.count(tx, Outbox.State.QUEUED)) == 0;
  }

  private void everyFileOnce(Database database) {
    Map<String, List<State>> states = new TreeMap<>();
    for (Received row :
        database.read(tx -> ReceivedFiles.page(tx, Optional.empty(), Optional.empty(), 100_000))) {
      if (row.path().endsWith(".csv")) continue;
      states.computeIfAbsent(row.path(), p -> new ArrayList<>()).add(row.state());
      byte[] bytes = database.read(tx -> Contents.bytes(tx, row.sha256())).orElseThrow();
      assertThat(bytes).as(row.path()).isEqualTo(tracks.get(row.path()));
    }
    assertThat(states.keySet()).isEqualTo(tracks.keySet());
    // Of what was dropped on all three one is measured; the others were known by then.
    states.forEach(
        (path, all) -> {
          assertThat(all).as(path).containsOnlyOnce(State.MEASURED);
          assertThat(all).as(path).isSubsetOf(State.MEASURED, State.DUPLICATE);
        });
    for (Station station : stations) assertThat(station.house.files("refused")).isEmpty();
    List<String> done = new ArrayList<>();
    for (Station station : stations)
      for (String file : station.house.files("done")) if (file.endsWith(".gpx")) done.add(file);
    assertThat(done).hasSize(FILES + 2 * COPIED);
  }

  private static void everyRunOnce(Database database) {
    List<Runs.Run> runs = database.read(tx -> Runs.page(tx, 100_000, 0));
    assertThat(runs).hasSize(FILES);
    assertThat(runs).extracting(r -> r.sessionName() + " " + r.unitName()).doesNotHaveDuplicates();
    assertThat(runs).extracting(Runs.Run::heldFor).containsOnly(Optional.empty());
    List<Results.Summary> results =
        database.read(tx -> Results.page(tx, Engine.VERSION, 100_000, 0));
    assertThat(results).hasSize(FILES);
  }

  private void everyMessageUnderOneId(Database database) throws Exception {
    List<Outbox.Message> rows = database.read(tx -> Outbox.page(tx, Optional.empty(), 100_000));
    assertThat(rows).isNotEmpty();
    assertThat(rows).extracting(Outbox.Message::state).containsOnly(Outbox.State.SENT);
    Map<String, Integer> came = new TreeMap<>();
    for (MimeMessage m : post.getReceivedMessages())
      came.merge(m.getMessageID().replaceAll("[<>]", ""), 1, Integer::sum);
    List<String> ids = rows.stream().map(m -> m.messageId().replaceAll("[<>]", "")).toList();
    assertThat(came.keySet()).containsExactlyInAnyOrderElementsOf(ids);
    assertThat(came.values()).allMatch(n -> n <= 2);
  }

  /** What is decided of every model, without the moments and the store's own numbers. */
  private static String decisions(Database database) {
    StringBuilder all = new StringBuilder();
    database
        .read(Judgements::all)
        .values()
        .forEach(
            j -> {
              all.append(j.model()).append(" anchor ").append(j.anchor()).append('\n');
              for (Comparison c : j.comparisons())
                all.append(
                    "  %s/%s %s %s %s+%s %s%n"
                        .formatted(
                            c.candidate(),
                            c.baseline(),
                            c.against(),
                            c.outcome(),
                            c.candidateSessions(),
                            c.baselineSessions(),
                            c.estimate().map(e -> e.percent() + " " + e.interval())));
              for (Comparison c : j.comparisons())
                for (Look l : c.looks())
                  all.append("    look %d on %s%n".formatted(l.number(), l.drawn()));
              j.due().forEach(d -> all.append("  due ").append(d.key()).append('\n'));
            });
    assertThat(all.toString()).contains("/");
    return all.toString();
  }
}
