package milewarden.store.statement;

import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Properties;
import org.sqlite.JDBC;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteConnection;
import org.sqlite.SQLiteDataSource;
import org.sqlite.jdbc4.JDBC4Connection;
import org.sqlite.jdbc4.JDBC4PreparedStatement;

/**
 * Connections to a file whose statements stay prepared when they are closed, and come again with
 * the same text: SQLite's planning of a statement takes several times as long as what it answers.
 * The driver of PostgreSQL does the same by itself.
 */
public final class ReusingSource extends SQLiteDataSource {
  /** Our own choice: more than intake or a page uses. */
  static final int MOST_IDLE = 100;

  public ReusingSource(SQLiteConfig config) {
    super(config);
  }

  @Override
  public SQLiteConnection getConnection(String user, String password) throws SQLException {
    String file = getUrl().substring(JDBC.PREFIX.length());
    return new Reusing(getUrl(), file, getConfig().toProperties());
  }

  /** Used by one thread at a time, as the pool hands it out. */
  private static final class Reusing extends JDBC4Connection {
    private final Map<String, Reused> idle = new LinkedHashMap<>();

    Reusing(String url, String file, Properties settings) throws SQLException {
      super(url, file, settings);
    }

    @Override
    public PreparedStatement prepareStatement(String sql, int type, int concurrency, int holding)
        throws SQLException {
      // A pragma may do its work while it is prepared.
      if (type != ResultSet.TYPE_FORWARD_ONLY || isPragma(sql))
        return super.prepareStatement(sql, type, concurrency, holding);
      checkOpen();
      checkCursor(type, concurrency, holding);
      Reused known;
      synchronized (idle) {
        known = idle.remove(sql);
      }
      if (known == null) return new Reused(this, sql);
      known.lent = true;
      return known;
    }

    private static boolean isPragma(String sql) {
      return sql.stripLeading().toLowerCase(Locale.ROOT).startsWith("pragma");
    }

    private void takeBack(String sql, Reused statement) throws SQLException {
      Reused[] over = new Reused[2];
      synchronized (idle) {
        over[0] = idle.put(sql, statement);
        if (idle.size() > MOST_IDLE) {
          Iterator<Reused> oldest = idle.values().iterator();
          over[1] = oldest.next();
          oldest.remove();
        }
      }
      for (Reused o : over) if (o != null) o.end();
    }
  }

  /** The pool closes what it handed out once: a second close must not lend it twice. */
  private static final class Reused extends JDBC4PreparedStatement {
    private final Reusing connection;
    private final String text;
    private boolean lent = true;

    Reused(Reusing connection, String text) throws SQLException {
      super(connection, text);
      this.connection = connection;
      this.text = text;
    }

    @Override
    public void close() throws SQLException {
      if (!lent) return;
      lent = false;
      // One that failed, or whose answer nobody read, may still be under way.
      if (connection.isClosed() || pointer.isClosed() || resultsWaiting) {
        end();
        return;
      }
      rs.close();
      clearBatch();
      clearParameters();
      connection.takeBack(text, this);
    }

    private void end() throws SQLException {
      super.close();
    }
  }
}
