package milewarden.app;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.locks.LockSupport;
import java.util.function.ToDoubleFunction;
import milewarden.app.StationCosts.Spent;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.TestStores;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.State;

/**
 * How many recordings a second one, two and three stations take in on one PostgreSQL, all on this
 * machine: from the moment that the files lie in the inboxes of running servers until the last is
 * measured, and what a recording costs the stations, the database and the line between them.
 * Arguments: files a station-round (2000), rounds (3). Rounds alternate 1, 2, 3 stations; the last
 * runs over a wire that counts, which costs time itself.
 */
public final class StationsThroughput {
  private static final int MOST_STATIONS = 3;
  private static final long IDLE_SECONDS = 20;

  private StationsThroughput() {}

  public static void main(String[] args) throws Exception {
    int files = args.length > 0 ? Integer.parseInt(args[0]) : 2000;
    int rounds = args.length > 1 ? Integer.parseInt(args[1]) : 3;
    List<byte[]> tracks = new ArrayList<>();
    Instant start = Household.day(0).minusSeconds(300L * 86_400);
    for (int i = 0; i < files; i++) tracks.add(Household.track(start.plusSeconds(i * 3_600L), i));
    say(
        "%d recordings of %.0f KiB, %d processors",
        files,
        tracks.stream().mapToInt(t -> t.length).average().orElse(0) / 1024,
        Runtime.getRuntime().availableProcessors());
    List<List<Round>> all = new ArrayList<>();
    for (int stations = 1; stations <= MOST_STATIONS; stations++) all.add(new ArrayList<>());
    for (int round = 0; round < rounds; round++)
      for (int stations = 1; stations <= MOST_STATIONS; stations++)
        all.get(stations - 1).add(round(tracks, stations, false));
    for (int stations = 1; stations <= MOST_STATIONS; stations++)
      report(stations, all.get(stations - 1), all.get(0));
    for (int stations = 1; stations <= MOST_STATIONS; stations += MOST_STATIONS - 1)
      report(round(tracks, stations, true), stations);
    System.exit(0);
  }

  private static void report(int stations, List<Round> rounds, List<Round> one) {
    double perSecond = median(rounds, Round::perSecond);
    double turn = median(rounds, Round::turnTaken);
    say(
        "%d stations: %.0f recordings/s (%.0f to %.0f), %.2f times one",
        stations,
        perSecond,
        rounds.stream().mapToDouble(Round::perSecond).min().orElseThrow(),
        rounds.stream().mapToDouble(Round::perSecond).max().orElseThrow(),
        perSecond / median(one, Round::perSecond));
    say(
        "  a recording: %.2f ms of processor in the stations, %.2f in the database,"
            + " %.1f KiB of its log",
        median(rounds, r -> r.stations() * 1e3 / r.recordings()),
        median(rounds, r -> r.database() * 1e3 / r.recordings()),
        median(rounds, r -> r.log() / 1024.0 / r.recordings()));
    say(
        "  one had the turn to write %.0f %% of the time, %.2f waited: no more than %.0f/s",
        turn * 100, median(rounds, Round::waiting), perSecond / turn);
  }

  private static void report(Round round, int stations) {
    say(
        "%d stations over a counted wire: a recording takes %.1f round trips and %.1f KiB;"
            + " each station without work %.1f round trips a second; %.0f recordings/s",
        stations,
        (double) round.turns() / round.recordings(),
        round.wire() / 1024.0 / round.recordings(),
        round.idleTurns() / (double) IDLE_SECONDS / stations,
        round.perSecond());
  }

  private static double median(List<Round> rounds, ToDoubleFunction<Round> figure) {
    double[] sorted = rounds.stream().mapToDouble(figure).sorted().toArray();
    return sorted[sorted.length / 2];
  }

  private static void say(String text, Object... values) {
    System.out.printf(Locale.ROOT, text + "%n", values);
  }

  /**
   * What a round took.
   *
   * @param stations seconds of processor, all of them together
   * @param database seconds of processor
   * @param log bytes that the database wrote into its write-ahead log
   * @param turns round trips to the database, where the wire counts
   * @param wire bytes both ways, where it counts
   */
  private record Round(
      int recordings,
      double perSecond,
      double stations,
      double database,
      long log,
      double turnTaken,
      double waiting,
      long turns,
      long wire,
      long idleTurns) {}

  private static Round round(List<byte[]> tracks, int count, boolean counted) throws Exception {
    Path folder = Files.createTempDirectory("stations");
    StoreSettings store = TestStores.POSTGRES.fresh(folder);
    String url = store.url().orElseThrow();
    List<Station> stations = new ArrayList<>();
    try (Database database = Database.open(store, InstantSource.system());
        Wire wire = new Wire(StationsIT.port(store));
        StationCosts costs = new StationCosts(url, stations)) {
      for (int i = 0; i < count; i++) {
        String way = counted ? url.replaceFirst(":\\d+/", ":" + wire.port() + "/") : url;
        Station station =
            new Station(
                folder.resolve("station" + i),
                List.of("store: {url: \"" + way + "\", user: postgres}"));
        station.start();
        stations.add(station);
      }
      // The first files warm every station; they are not counted.
      int warm = Math.min(300 * count, tracks.size() / 2);
      drop(stations, tracks, 0, warm);
      until(database, warm);
      long turns = wire.turns();
      long bytes = wire.bytes();
      costs.startWatch();
      Spent before = costs.spent();
      drop(stations, tracks, warm, tracks.size());
      until(database, tracks.size());
      Spent spent = costs.spent().since(before);
      turns = wire.turns() - turns;
      bytes = wire.bytes() - bytes;
      int recordings = tracks.size() - warm;
      return new Round(
          recordings,
          recordings / (spent.nanos() / 1e9),
          spent.stations(),
          spent.database(),
          spent.log(),
          costs.turnTaken(),
          costs.waiting(),
          turns,
          bytes,
          counted ? idle(wire) : 0);
    } finally {
      for (Station station : stations) station.kill();
    }
  }

  private static long idle(Wire wire) throws InterruptedException {
    // What a batch leaves to do (judging, its end) is done by then.
    Thread.sleep(10_000);
    long before = wire.turns();
    Thread.sleep(IDLE_SECONDS * 1_000);
    return wire.turns() - before;
  }

  private static void drop(List<Station> stations, List<byte[]> tracks, int from, int to)
      throws IOException {
    for (int i = from; i < to; i++)
      stations
          .get(i % stations.size())
          .house
          .drop("U%d/1.0/hand/%d.gpx".formatted(i % 20, i), tracks.get(i));
  }

  private static void until(Database database, int files) {
    while (true) {
      var counts = database.read(ReceivedFiles::counts);
      int settled = counts.values().stream().mapToInt(n -> n).sum();
      if (settled >= files && counts.getOrDefault(State.RECEIVED, 0) == 0) return;
      LockSupport.parkNanos(20_000_000);
    }
  }
}
