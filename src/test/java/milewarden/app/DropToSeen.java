package milewarden.app;

import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Marks;
import milewarden.verdict.DueItem.Severity;

/**
 * How long it takes from the drop of the recording that makes a release's error another one until a
 * page flags it and the message of it lies in the outbox folder, in a store of a lab.
 */
public final class DropToSeen {
  // Fifteen sessions can be dealt in 455 ways, so that three that stand apart are called.
  private static final int BEFORE = 12;
  private static final int LOOKED_AT = 3;
  // Of the usual settings.
  private static final double STAND_STILL_S = 2;
  private static final Pattern ADDRESS = Pattern.compile("http://127.0.0.1:\\d+");

  private DropToSeen() {}

  /**
   * Seconds of each of so many drops, from the end of the stand-still wait.
   *
   * @param lab a filled store, which is copied
   */
  public static List<Double> measure(Path lab, int models, int runs, int drops) throws Exception {
    Household full = LabStore.fill(lab, models, runs);
    Path folder = Files.createTempDirectory("seen");
    try {
      copy(full.data, folder.resolve("data"));
      Household house = new Household(folder);
      Files.writeString(house.configFile, "zone: UTC\nport: 0\n");
      for (int model = 0; model < drops; model++) dropAllButTheLast(house, model);
      LabStore.settle(house, 0);
      return seen(house, drops);
    } finally {
      LabStore.delete(folder);
    }
  }

  private static void copy(Path from, Path to) throws Exception {
    try (Stream<Path> all = Files.walk(from)) {
      for (Path path : all.toList()) {
        Path target = to.resolve(from.relativize(path).toString());
        if (Files.isDirectory(path)) Files.createDirectories(target);
        else Files.copy(path, target);
      }
    }
  }

  private static String unit(int model) {
    return "W%02d".formatted(model);
  }

  private static void dropAllButTheLast(Household house, int model) throws Exception {
    StringBuilder rows = new StringBuilder();
    for (int n = 0; n < BEFORE + LOOKED_AT - 1; n++) {
      house.drop("%s/w%d.gpx".formatted(unit(model), n), track(model, n));
      rows.append(row(model, n, "w" + n + ".gpx"));
    }
    house.dropSheet(unit(model) + "/session.csv", rows.toString());
  }

  private static byte[] track(int model, int n) {
    return Household.trackOf(unit(model), Household.day(n), 100L * model + n);
  }

  /** Its first release reads right within a metre or two, the next one 5 % more. */
  private static String row(int model, int n, String file) {
    double km = (n < BEFORE ? 0.400 : 0.420) + n % 3 * 0.001;
    return Household.row(
            unit(model) + "-" + n,
            Household.day(n),
            file,
            n < BEFORE ? "1.0" : "2.0",
            "%.3f".formatted(km))
        .replace(",K1,", "," + unit(model) + ",");
  }

  private static List<Double> seen(Household house, int drops) throws Exception {
    List<Double> seconds = new ArrayList<>();
    Child child = Child.start(house, "-Xmx256m", "-XX:TieredStopAtLevel=4");
    try (Database database = Database.open(StoreSettings.in(house.data), InstantSource.system())) {
      Matcher address = ADDRESS.matcher(child.said());
      if (!child.serves() || !address.find()) throw new AssertionError(child.said());
      String page = address.group() + "/due";
      HttpClient client = HttpClient.newHttpClient();
      for (int model = 0; model < drops; model++) {
        String name = unit(model);
        if (regression(database, name).isPresent())
          throw new AssertionError(name + " is flagged before the drop");
        int messages = house.messages().size();
        int n = BEFORE + LOOKED_AT - 1;
        house.dropSheet(name + "/last/session.csv", row(model, n, "last.gpx"));
        house.drop(name + "/last/last.gpx", track(model, n));
        long whole = System.nanoTime() + (long) (STAND_STILL_S * 1e9);
        Await.until(
            "the change of " + name + " is on the page, and told",
            () -> database.read(ReceivedFiles::counts) + child.said(),
            () ->
                isOn(client, page, regression(database, name))
                    && house.files("outbox").size() > messages);
        seconds.add((System.nanoTime() - whole) / 1e9);
        Await.until("rest", () -> "", () -> database.read(Marks::count) == 0);
      }
      return seconds;
    } finally {
      child.stopS();
    }
  }

  private static OptionalLong regression(Database database, String model) {
    return database.read(DueItems::open).stream()
        .filter(d -> d.item().model().equals(model))
        .filter(d -> d.item().severity() == Severity.REGRESSION)
        .mapToLong(d -> d.id().value())
        .findFirst();
  }

  private static boolean isOn(HttpClient client, String page, OptionalLong item) {
    if (item.isEmpty()) return false;
    HttpRequest request =
        HttpRequest.newBuilder(URI.create(page)).header("Accept", "text/html").build();
    return client
        .sendAsync(request, BodyHandlers.ofString())
        .join()
        .body()
        .contains("id=\"due-" + item.getAsLong() + "\"");
  }
}
