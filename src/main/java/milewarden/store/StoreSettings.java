package milewarden.store;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;

/**
 * Where everything is kept.
 *
 * @param data the data folder; it is made where it is missing
 * @param url {@code jdbc:postgresql:...}; empty for {@code milewarden.db} in the data folder
 * @param user of the PostgreSQL database
 * @param password of that user
 */
public record StoreSettings(
    Path data, Optional<String> url, Optional<String> user, Optional<String> password) {

  /** SQLite in the data folder. */
  public static StoreSettings in(Path data) {
    return new StoreSettings(data, Optional.empty(), Optional.empty(), Optional.empty());
  }

  /** True where a store was made here before; always of a database server, which says so itself. */
  public boolean isThere() {
    return url.isPresent() || Files.exists(file());
  }

  /** The file of the SQLite database. */
  public Path file() {
    return data.resolve("milewarden.db");
  }

  /** How the database is named in sentences for people; without a password. */
  public String where() {
    return url.map(u -> u.replaceAll("[?].*", "")).orElseGet(() -> file().toString());
  }

  @Override
  public String toString() {
    return "StoreSettings[" + where() + "]";
  }
}
