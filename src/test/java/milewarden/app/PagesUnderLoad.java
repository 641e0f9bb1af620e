package milewarden.app;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.InstantSource;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.locks.LockSupport;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.judged.Marks;

/**
 * The pages of a server with little memory, asked for at an even rate. A few hundred recordings are
 * taken in as any are; the rest are their copies on other days, since what they say makes no
 * difference to a page.
 */
public final class PagesUnderLoad {
  private static final int MODELS = 25;
  private static final int RELEASES = 4;
  private static final int BASE = 800;
  private static final int A_SECOND = 50;
  private static final int WARM_S = 10;
  private static final int COUNTED_S = 15;
  private static final List<String> PAGES =
      List.of("/", "/models/1", "/due", "/intake", "/runs", "/runs/77", "/sessions", "/courses");

  private PagesUnderLoad() {}

  /**
   * What was measured.
   *
   * @param judgedS until the server had judged all of its models
   * @param slowest the page with the largest 95th percentile, and that
   */
  public record Report(int runs, int models, double judgedS, double p95Ms, String slowest) {}

  /** The pages over so many runs. */
  public static Report at(Path folder, int runs) throws Exception {
    Household house = new Household(folder);
    Files.writeString(house.configFile, "zone: UTC\nport: 0\ndefaults: {gait: walk}\n");
    take(house);
    int copies = runs / BASE - 1;
    multiply(StoreSettings.in(house.data).file(), copies);
    StoreSettings settings = StoreSettings.in(house.data);
    try (Database database = Database.open(settings, InstantSource.system())) {
      database.change(Marks::all);
      long start = System.nanoTime();
      Child child = Child.start(house, "-Xmx256m", "-XX:TieredStopAtLevel=4");
      try {
        if (!child.serves()) throw new AssertionError(child.said());
        while (database.read(Marks::count) > 0) {
          if (!child.serves()) throw new AssertionError("it ended:\n" + child.said());
          LockSupport.parkNanos(20_000_000);
        }
        double judged = (System.nanoTime() - start) / 1e9;
        return asked((copies + 1) * BASE, judged, child);
      } finally {
        child.kill();
      }
    }
  }

  private static void take(Household house) throws IOException, InterruptedException {
    Path in = house.folder.resolve("in");
    Pattern date = Pattern.compile("2026-03-(\\d\\d)T");
    String walk = new String(Household.track(Household.day(0), 1), StandardCharsets.UTF_8);
    LocalDate first = LocalDate.parse("2024-01-01");
    for (int i = 0; i < BASE; i++) {
      int nth = i / MODELS;
      String day = first.plusDays(nth).toString();
      String path =
          "D%02d/1.%d/hand/%s.gpx".formatted(i % MODELS, nth * MODELS * RELEASES / BASE, day);
      Path file = in.resolve(path);
      Files.createDirectories(file.getParent());
      // Every file is another one: the seed stands in a comment.
      Files.writeString(
          file,
          date.matcher(walk).replaceAll(day + "T") + "<!-- " + i + " -->",
          StandardCharsets.UTF_8);
    }
    Process process =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-cp",
                System.getProperty("java.class.path"),
                Main.class.getName(),
                "intake",
                in.toString(),
                "--data",
                house.data.toString(),
                "--config",
                house.configFile.toString())
            .redirectErrorStream(true)
            .start();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    if (process.waitFor() > 1) throw new AssertionError(said);
  }

  /** Every row of a recording again, with numbers and days of its own. */
  private static void multiply(Path file, int copies) throws SQLException {
    try (Connection c = DriverManager.getConnection("jdbc:sqlite:" + file);
        Statement s = c.createStatement()) {
      c.setAutoCommit(false);
      for (String table : List.of("session", "received_file", "run", "measurement", "result")) {
        List<String> columns = new ArrayList<>();
        try (ResultSet r = s.executeQuery("select name from pragma_table_info('" + table + "')")) {
          while (r.next()) columns.add(r.getString(1));
        }
        long span;
        try (ResultSet r = s.executeQuery("select max(id) from " + table)) {
          r.next();
          span = r.getLong(1);
        }
        for (int k = 1; k <= copies; k++) {
          int copy = k;
          String values =
              columns.stream().map(x -> value(table, x, copy)).collect(Collectors.joining(", "));
          s.executeUpdate(
              "insert into %s (%s) select %s from %s where id <= %d"
                  .formatted(table, String.join(", ", columns), values, table, span));
        }
      }
      c.commit();
    }
  }

  private static String value(String table, String column, int copy) {
    long shift = copy * 1_000_000L;
    return switch (column) {
      case "id", "session_id", "file_id", "run_id", "measurement_id" -> column + " + " + shift;
      case "name", "path" -> "'" + copy + "-' || " + column;
      case "started_at", "ended_at", "first_start", "last_start" ->
          "strftime('%Y-%m-%dT%H:%M:%fZ', " + column + ", '+" + copy * 37 % 700 + " days')";
      case "local_date" -> "date(local_date, '+" + copy * 37 % 700 + " days')";
      default -> column;
    };
  }

  private static Report asked(int runs, double judgedS, Child child) throws InterruptedException {
    Matcher address = Pattern.compile("http://127.0.0.1:\\d+").matcher(child.said());
    if (!address.find()) throw new AssertionError(child.said());
    HttpClient client = HttpClient.newHttpClient();
    Map<String, List<Double>> times = new LinkedHashMap<>();
    List<CompletableFuture<Void>> all = new ArrayList<>();
    long start = System.nanoTime();
    for (int i = 0; i < A_SECOND * (WARM_S + COUNTED_S); i++) {
      // At its time, whether earlier ones were answered or not.
      long due = start + i * 1_000_000_000L / A_SECOND;
      while (System.nanoTime() < due) LockSupport.parkNanos(due - System.nanoTime());
      String page = PAGES.get(i % PAGES.size());
      boolean counts = i >= A_SECOND * WARM_S;
      all.add(
          client
              .sendAsync(
                  HttpRequest.newBuilder(URI.create(address.group() + page)).build(),
                  HttpResponse.BodyHandlers.ofByteArray())
              .thenAccept(
                  answer -> {
                    if (answer.statusCode() != 200)
                      throw new IllegalStateException(page + ": " + answer.statusCode());
                    double ms = (System.nanoTime() - due) / 1e6;
                    if (!counts) return;
                    synchronized (times) {
                      times.computeIfAbsent(page, p -> new ArrayList<>()).add(ms);
                    }
                  }));
    }
    all.forEach(CompletableFuture::join);
    List<Double> every = times.values().stream().flatMap(List::stream).toList();
    Map.Entry<String, List<Double>> slowest =
        times.entrySet().stream()
            .max(java.util.Comparator.comparingDouble(e -> p95(e.getValue())))
            .orElseThrow();
    return new Report(
        runs,
        MODELS,
        judgedS,
        p95(every),
        String.format(Locale.ROOT, "%s %.0f ms", slowest.getKey(), p95(slowest.getValue())));
  }

  private static double p95(List<Double> ms) {
    return ms.stream().sorted().toList().get((int) (0.95 * (ms.size() - 1)));
  }
}
