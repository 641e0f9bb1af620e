package milewarden.store;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.HexFormat;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * A copy of the whole SQLite store as one consistent file, with its SHA-256 beside it in {@code
 * <file>.sha256}. It is written under another name, checked, and only then given its name.
 */
public final class StoreCopy {
  private StoreCopy() {}

  /**
   * Copies the store, beside a running server or without one.
   *
   * @return why it was refused, as a sentence; empty where the copy was made and checked
   * @throws StoreUnavailable where the disk or the database fails; nothing then has the copy's name
   */
  public static Optional<String> make(StoreSettings from, Path copy) {
    if (from.url().isPresent())
      return Optional.of("A store on PostgreSQL is backed up with the database server's tools.");
    if (!from.isThere()) return Optional.of("There is no store at " + from.where() + ".");
    if (Files.exists(copy)) return Optional.of(copy + " exists already; name another file.");
    Path part = beside(copy, ".part");
    try {
      Files.deleteIfExists(part);
      vacuum(from.file(), part);
      Optional<String> damage = damage(part);
      if (damage.isPresent()) {
        Files.delete(part);
        return Optional.of("The copy was not kept, it is damaged: " + damage.get() + ".");
      }
      String sum = sha256(part) + "  " + copy.getFileName() + "\n";
      Files.writeString(beside(copy, ".sha256"), sum, StandardCharsets.UTF_8);
      Files.move(part, copy, StandardCopyOption.ATOMIC_MOVE);
      return Optional.empty();
    } catch (IOException | SQLException e) {
      throw StoreUnavailable.unreachable(copy.toString(), e.toString(), e);
    }
  }

  /**
   * Puts a copy into an empty or missing data folder.
   *
   * @return why it was refused, as a sentence; empty where the store is in its place
   * @throws StoreUnavailable where the disk fails; there is then no store in the folder
   */
  public static Optional<String> putBack(Path copy, StoreSettings into) {
    if (into.url().isPresent())
      return Optional.of("A store on PostgreSQL is restored with the database server's tools.");
    Path sum = beside(copy, ".sha256");
    try {
      if (!Files.isRegularFile(copy)) return Optional.of("There is no file " + copy + ".");
      if (!Files.isRegularFile(sum))
        return Optional.of("The check sum " + sum + " is missing; copy it with the backup.");
      Files.createDirectories(into.data());
      if (!isEmpty(into.data()))
        return Optional.of(into.data() + " is not empty; name an empty folder by --data.");
      Path part = beside(into.file(), ".part");
      Files.copy(copy, part);
      Optional<String> damage =
          Files.readString(sum, StandardCharsets.UTF_8).startsWith(sha256(part))
              ? damage(part)
              : Optional.of("its bytes differ from its check sum");
      if (damage.isPresent()) {
        Files.delete(part);
        return Optional.of(copy + " is damaged: " + damage.get() + ". Take an older backup.");
      }
      Files.move(part, into.file(), StandardCopyOption.ATOMIC_MOVE);
      return Optional.empty();
    } catch (IOException e) {
      throw StoreUnavailable.unreachable(copy.toString(), e.toString(), e);
    }
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

  private static boolean isEmpty(Path folder) throws IOException {
    try (Stream<Path> entries = Files.list(folder)) {
      return entries.findAny().isEmpty();
    }
  }

  private static Path beside(Path file, String ending) {
    return file.resolveSibling(file.getFileName() + ending);
  }

  private static String sha256(Path file) throws IOException {
    try (InputStream in = Files.newInputStream(file)) {
      MessageDigest digest = MessageDigest.getInstance("SHA-256");
      new DigestInputStream(in, digest).transferTo(OutputStream.nullOutputStream());
      return HexFormat.of().formatHex(digest.digest());
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException(e);
    }
  }
}
