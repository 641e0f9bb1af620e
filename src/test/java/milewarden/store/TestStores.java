package milewarden.store;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.InstantSource;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;

/** The two databases, real ones both: a file of its own, or a schema of its own, per test. */
public enum TestStores {
  SQLITE {
    @Override
    public StoreSettings fresh(Path folder) {
      return StoreSettings.in(folder);
    }
  },
  POSTGRES {
    @Override
    public StoreSettings fresh(Path folder) {
      String name = "test_" + Server.NUMBER.incrementAndGet();
      try (Connection connection = Server.RUNNING.getPostgresDatabase().getConnection();
          Statement statement = connection.createStatement()) {
        // A schema, not a database: that would copy a thousand files, and delete them at the end.
        statement.execute("create schema " + name);
      } catch (SQLException e) {
        throw new IllegalStateException(e);
      }
      return new StoreSettings(
          folder,
          Optional.of(Server.RUNNING.getJdbcUrl("postgres", "postgres") + "&currentSchema=" + name),
          Optional.of("postgres"),
          Optional.empty());
    }
  };

  /** Settings of a store that nobody has used. */
  public abstract StoreSettings fresh(Path folder);

  public Database open(Path folder, InstantSource clock) {
    return Database.open(fresh(folder), clock);
  }

  /** Started with the first test that wants it; it ends with the process. */
  private static final class Server {
    static final AtomicInteger NUMBER = new AtomicInteger();
    static final EmbeddedPostgres RUNNING = start();

    private static EmbeddedPostgres start() {
      try {
        return EmbeddedPostgres.builder()
            .setOverrideWorkingDirectory(Path.of("target", "postgres").toFile())
            .start();
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
  }
}
