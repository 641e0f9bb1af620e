package milewarden.store.keep;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.InstantSource;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import milewarden.store.StoreSettings;
import milewarden.store.StoreUnavailable;

/**
 * A backup: one zip with the whole store as a consistent SQLite file, whatever database it is in,
 * the courses' files and the configuration, and the SHA-256 of each in {@code SHA256SUMS}. It is
 * written under another name, checked, and only then given its name.
 */
public final class StoreCopy {
  private static final String DATABASE = "milewarden.db";
  private static final String COURSES = "courses/";
  private static final String CONFIG = "config/";

  private StoreCopy() {}

  /**
   * What is not in the store and belongs to it; a file or folder that is missing is left out.
   *
   * @param courses the courses' folder
   * @param config the configuration's file; its policy beside it goes with it
   */
  public record Beside(Path courses, Optional<Path> config) {}

  /**
   * Copies everything, beside a running server or without one.
   *
   * @return why it was refused, as a sentence; empty where the copy was made and checked
   * @throws StoreUnavailable where the disk or the database fails; nothing then has the copy's name
   */
  public static Optional<String> make(
      StoreSettings from, Beside beside, Path copy, InstantSource clock) {
    if (!from.isThere()) return Optional.of("There is no store at " + from.where() + ".");
    if (Files.exists(copy)) return Optional.of(copy + " exists already; name another file.");
    try {
      Path folder = copy.toAbsolutePath().getParent();
      Path work = Files.createTempDirectory(folder == null ? Path.of("") : folder, ".backup");
      try {
        return make(from, beside, copy, work, clock);
      } finally {
        Folders.delete(work);
      }
    } catch (IOException | SQLException e) {
      throw StoreUnavailable.behind(e, copy.toString())
          .orElseGet(
              () ->
                  e instanceof IOException
                      ? StoreUnavailable.unwritable(copy.toString(), e.toString(), e)
                      : StoreUnavailable.unreachable(from.where(), e.toString(), e));
    }
  }

  private static Optional<String> make(
      StoreSettings from, Beside beside, Path copy, Path work, InstantSource clock)
      throws IOException, SQLException {
    Path database = work.resolve(DATABASE);
    if (from.url().isEmpty()) vacuum(from.file(), database);
    else StoreMove.copy(from, StoreSettings.in(work), clock);
    Optional<String> damage = damage(database);
    if (damage.isPresent())
      return Optional.of(
          "The copy was not kept, it is damaged: " + damage.get() + ". Run `milewarden verify`.");
    Map<String, Path> files = new LinkedHashMap<>();
    files.put(DATABASE, database);
    Folders.files(beside.courses()).forEach((name, file) -> files.put(COURSES + name, file));
    if (beside.config().isPresent()) {
      Path config = beside.config().get();
      files.put(CONFIG + "milewarden.yaml", config);
      files.put(CONFIG + "policy.yaml", config.resolveSibling("policy.yaml"));
    }
    files.values().removeIf(file -> !Files.isRegularFile(file));
    Path zip = work.resolve("copy.zip");
    BackupFile.write(zip, files);
    Files.move(zip, copy, StandardCopyOption.ATOMIC_MOVE);
    return Optional.empty();
  }

  /**
   * Puts a backup into an empty or missing data folder: the store, the courses as its folder {@code
   * courses}, the configuration as its folder {@code config}. A bare SQLite file with its {@code
   * <file>.sha256} beside it, as earlier builds wrote it, is a backup as well.
   *
   * @param into where its store is on PostgreSQL, that must hold nothing
   * @return why it was refused, as a sentence; empty where everything is in its place
   * @throws StoreUnavailable where the disk or database fails; there is then no store in the folder
   */
  public static Optional<String> putBack(Path copy, StoreSettings into, InstantSource clock) {
    try {
      if (!Files.isRegularFile(copy)) return Optional.of("There is no file " + copy + ".");
      Files.createDirectories(into.data());
      if (!Folders.isEmpty(into.data()))
        return Optional.of(into.data() + " is not empty; name an empty folder by --data.");
      Path work = Files.createDirectory(into.data().resolve(".restore"));
      try {
        Optional<String> wrong = BackupFile.unpack(copy, work, DATABASE);
        if (wrong.isEmpty()) wrong = damage(work.resolve(DATABASE));
        if (wrong.isPresent())
          return Optional.of(copy + " is damaged: " + wrong.get() + ". Take an older backup.");
        return settle(work, into, clock);
      } finally {
        Folders.delete(work);
      }
    } catch (IOException e) {
      throw StoreUnavailable.unreachable(copy.toString(), e.toString(), e);
    }
  }

  // The store last: a folder that has it has everything.
  private static Optional<String> settle(Path work, StoreSettings into, InstantSource clock)
      throws IOException {
    for (String folder : new String[] {COURSES, CONFIG})
      if (Files.isDirectory(work.resolve(folder)))
        Files.move(work.resolve(folder), into.data().resolve(folder));
    if (into.url().isPresent())
      return StoreMove.copy(StoreSettings.in(work), into, clock).refused();
    Files.move(work.resolve(DATABASE), into.file(), StandardCopyOption.ATOMIC_MOVE);
    return Optional.empty();
  }

  private static void vacuum(Path store, Path part) throws SQLException {
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + store);
        PreparedStatement vacuum = connection.prepareStatement("vacuum into ?")) {
      vacuum.setString(1, part.toString());
      vacuum.execute();
    }
  }

  private static Optional<String> damage(Path file) {
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file);
        Statement statement = connection.createStatement();
        ResultSet answer = statement.executeQuery("pragma integrity_check(1)")) {
      String said = answer.next() ? answer.getString(1) : "no answer";
      return said.equals("ok") ? Optional.empty() : Optional.of(said);
    } catch (SQLException e) {
      return Optional.of(e.toString());
    }
  }
}
