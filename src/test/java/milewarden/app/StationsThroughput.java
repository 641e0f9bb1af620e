package milewarden.app;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.locks.LockSupport;
import milewarden.store.Database;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.StoreSettings;
import milewarden.store.TestStores;

/**
 * How many recordings a second one, two and three stations take in on one PostgreSQL, all on this
 * machine: from the moment that the files lie in the inboxes of running servers until the last is
 * measured. Arguments: files a station-round (2000), rounds (3). Rounds alternate 1, 2, 3 stations.
 */
public final class StationsThroughput {
  private StationsThroughput() {}

  public static void main(String[] args) throws Exception {
    int files = args.length > 0 ? Integer.parseInt(args[0]) : 2000;
    int rounds = args.length > 1 ? Integer.parseInt(args[1]) : 3;
    List<byte[]> tracks = new ArrayList<>();
    Instant start = Household.day(0).minusSeconds(300L * 86_400);
    for (int i = 0; i < files; i++) tracks.add(Household.track(start.plusSeconds(i * 3_600L), i));
    System.out.printf(
        Locale.ROOT,
        "%d recordings of %.0f KiB, %d processors%n",
        files,
        tracks.stream().mapToInt(t -> t.length).average().orElse(0) / 1024,
        Runtime.getRuntime().availableProcessors());
    double[][] perSecond = new double[3][rounds];
    for (int round = 0; round < rounds; round++)
      for (int stations = 1; stations <= 3; stations++)
        perSecond[stations - 1][round] = round(tracks, stations);
    double one = median(perSecond[0]);
    for (int stations = 1; stations <= 3; stations++) {
      double median = median(perSecond[stations - 1]);
      System.out.printf(
          Locale.ROOT,
          "%d stations: %.0f recordings/s (rounds %s), %.2f times one%n",
          stations,
          median,
          Arrays.toString(perSecond[stations - 1]),
          median / one);
    }
    System.exit(0);
  }

  private static double median(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    return sorted[sorted.length / 2];
  }

  private static double round(List<byte[]> tracks, int count) throws Exception {
    Path folder = Files.createTempDirectory("stations");
    StoreSettings store = TestStores.POSTGRES.fresh(folder);
    List<Station> stations = new ArrayList<>();
    try (Database database = Database.open(store, InstantSource.system())) {
      for (int i = 0; i < count; i++) {
        String url = store.url().orElseThrow();
        Station station =
            new Station(
                folder.resolve("station" + i),
                List.of("store: {url: \"" + url + "\", user: postgres}"));
        station.start();
        stations.add(station);
      }
      // The first files warm every station; they are not counted.
      int warm = Math.min(300 * count, tracks.size() / 2);
      drop(stations, tracks, 0, warm);
      until(database, warm);
      long began = System.nanoTime();
      drop(stations, tracks, warm, tracks.size());
      until(database, tracks.size());
      return (tracks.size() - warm) / ((System.nanoTime() - began) / 1e9);
    } finally {
      for (Station station : stations) station.kill();
    }
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
