package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.Statement;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import milewarden.app.config.Config;
import milewarden.cli.Exit;
import milewarden.cli.Milewarden;
import milewarden.cli.kept.CompareCommand;
import milewarden.cli.kept.PlanCommand;
import milewarden.cli.kept.VerdictCommand;
import milewarden.cli.kept.VerifyCommand;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Marks;
import milewarden.store.judged.Recomputations;
import milewarden.store.run.Runs;

/** A data folder with a season of runs, a published verdict and a newer release. */
final class Season {
  final Household house;
  final Config config;

  Season(Path folder) throws Exception {
    this(folder, Household.QUICK);
  }

  /**
   * @param store for the address of a database server, where it has one
   */
  Season(Path folder, StoreSettings store) throws Exception {
    this(folder, yaml(folder, store));
  }

  Season(Path folder, String yaml) throws Exception {
    house = new Household(folder);
    Files.writeString(house.configFile, yaml);
    config = house.config();
  }

  private static String yaml(Path folder, StoreSettings store) throws Exception {
    if (store.url().isEmpty()) return Household.QUICK;
    return Household.QUICK
        + "store: {url: \"%s\", user: %s, password_file: %s}\n"
            .formatted(
                store.url().get(),
                store.user().orElseThrow(),
                Files.writeString(folder.resolve("password"), "asked for by nobody"));
  }

  Database look() {
    return Database.open(config.store(), InstantSource.system());
  }

  static void atRest(Database database) {
    Await.until(
        "all is measured and judged",
        () -> database.read(ReceivedFiles::counts),
        () ->
            database.read(ReceivedFiles::counts).getOrDefault(State.RECEIVED, 0) == 0
                && database.read(Recomputations::pending) == 0
                && database.read(Marks::count) == 0);
  }

  /** Four sessions with 1.0, shown alone; four tracks with it; a track with 2.0. */
  private void drop() throws Exception {
    StringBuilder rows = new StringBuilder();
    List<String> shown = List.of("0.401", "0.400", "0.402", "0.401");
    for (int i = 0; i < shown.size(); i++)
      rows.append(Household.row("B" + i, Household.day(i), "", "1.0", shown.get(i)));
    for (int i = 4; i < 8; i++) {
      house.drop("all/w" + i + ".gpx", Household.track(Household.day(i), i));
      rows.append(Household.row("B" + i, Household.day(i), "w" + i + ".gpx", "1.0", "0.401"));
    }
    house.drop("all/new.gpx", Household.track(Household.day(10), 5));
    rows.append(Household.row("N1", Household.day(10), "new.gpx", "2.0", "0.401"));
    house.dropSheet("all/session.csv", rows.toString());
  }

  /** Runs the season, publishes on 1.0, and stops the server; what is due then. */
  List<DueItems.Due> run(Database database) throws Exception {
    try (App app = new App(config, InstantSource.system()).start()) {
      assertThat(app.port()).isPositive();
      drop();
      Await.until(
          "nine runs are there and a message was written",
          () -> database.read(ReceivedFiles::counts) + " " + house.files("outbox"),
          () -> database.read(Runs::count) == 9 && !house.files("outbox").isEmpty());
      atRest(database);
      publish();
      atRest(database);
    }
    return open(database);
  }

  /** By command, beside the running server. */
  private void publish() throws Exception {
    Path words = Files.writeString(house.folder.resolve("words.txt"), "Reads well.");
    StringWriter out = new StringWriter();
    int code =
        command(
            out,
            "verdict",
            "publish",
            "--model",
            "K1",
            "--firmware",
            "1.0",
            "--words",
            words.toString());
    assertThat(code).as(out.toString()).isEqualTo(Exit.DONE);
  }

  /** Runs a command on this folder; both outputs go to {@code out}. */
  int command(StringWriter out, String... command) {
    List<String> line = new ArrayList<>(List.of(command));
    line.addAll(List.of("--data", house.data.toString(), "--config", house.configFile.toString()));
    return bare(out, line.toArray(String[]::new));
  }

  /** Runs a command that knows of no folder. */
  static int bare(StringWriter out, String... command) {
    return Milewarden.run(
        Map.of(
            "verdict",
            () -> new VerdictCommand(new StoreDoor()),
            "dry-run",
            () -> new DryRunCommand(),
            "recompute",
            () -> new RecomputeCommand(),
            "move",
            () -> new MoveCommand(),
            "plan",
            () -> new PlanCommand(new StoreDoor()),
            "backup",
            () -> new BackupCommand(),
            "restore",
            () -> new RestoreCommand(),
            "compare",
            () -> new CompareCommand(new StoreDoor()),
            "verify",
            () -> new VerifyCommand(StoreDoor::check)),
        new PrintWriter(out),
        new PrintWriter(out),
        command);
  }

  static List<DueItems.Due> open(Database database) {
    return database.read(tx -> DueItems.open(tx));
  }

  void sql(String... statements) throws Exception {
    try (Connection c = connection();
        Statement s = c.createStatement()) {
      for (String each : statements) s.executeUpdate(each);
    }
  }

  int count(String sql) throws Exception {
    try (Connection c = connection();
        Statement s = c.createStatement();
        ResultSet r = s.executeQuery(sql)) {
      r.next();
      return r.getInt(1);
    }
  }

  private Connection connection() throws Exception {
    return config.store().url().isPresent()
        ? DriverManager.getConnection(
            config.store().url().get(), config.store().user().orElseThrow(), "")
        : DriverManager.getConnection("jdbc:sqlite:" + house.data.resolve("milewarden.db"));
  }
}
