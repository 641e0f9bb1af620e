package milewarden.schedule;

import java.sql.Connection;
import java.sql.SQLException;
import javax.sql.DataSource;
import org.quartz.utils.ConnectionProvider;

/** Quartz's view of the store's connections; whoever made them closes them. */
final class Connections implements ConnectionProvider {
  private final DataSource source;

  Connections(DataSource source) {
    this.source = source;
  }

  @Override
  public Connection getConnection() throws SQLException {
    return source.getConnection();
  }

  @Override
  public void initialize() {}

  @Override
  public void shutdown() {}
}
