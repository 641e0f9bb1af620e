package milewarden.store.statement;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.sqlite.SQLiteConfig;

/**
 * What comes again behaves as what is new: by java.sql.Statement and PreparedStatement (Java SE 17,
 * API documentation), and by what SQLite says of sqlite3_reset, which lets bindings stand.
 */
class ReusingSourceTest {
  private static final String ADD = "insert into thing (id, name) values (?, ?)";
  private static final String NAMES = "select name from thing where id >= ? order by id";

  @TempDir private Path folder;
  private Connection connection;

  @BeforeEach
  void open() throws SQLException {
    ReusingSource source = new ReusingSource(new SQLiteConfig());
    source.setUrl("jdbc:sqlite:" + folder.resolve("x.db"));
    connection = source.getConnection();
    run("create table thing (id integer primary key, name text)");
    for (int i = 1; i <= 3; i++) add(i, "n" + i);
  }

  @AfterEach
  void close() throws SQLException {
    connection.close();
  }

  private void run(String sql) throws SQLException {
    try (PreparedStatement s = connection.prepareStatement(sql)) {
      s.execute();
    }
  }

  private void add(int id, String name) throws SQLException {
    try (PreparedStatement s = connection.prepareStatement(ADD)) {
      s.setInt(1, id);
      s.setString(2, name);
      s.executeUpdate();
    }
  }

  private String names(int from) throws SQLException {
    try (PreparedStatement s = connection.prepareStatement(NAMES)) {
      s.setInt(1, from);
      StringBuilder names = new StringBuilder();
      try (ResultSet r = s.executeQuery()) {
        while (r.next()) names.append(r.getString("name"));
      }
      return names.toString();
    }
  }

  @Test
  void theSameStatementComesAgain() throws SQLException {
    PreparedStatement first = connection.prepareStatement(NAMES);
    first.close();
    try (PreparedStatement again = connection.prepareStatement(NAMES)) {
      assertThat(again).isSameAs(first);
    }
    assertThat(names(2)).isEqualTo("n2n3");
    assertThat(names(1)).isEqualTo("n1n2n3");
  }

  @Test
  void twoOfOneTextAtATimeDoNotShareTheirRows() throws SQLException {
    names(1);
    try (PreparedStatement outer = connection.prepareStatement(NAMES)) {
      outer.setInt(1, 1);
      try (ResultSet r = outer.executeQuery()) {
        for (int id = 1; id <= 3; id++) {
          assertThat(r.next()).isTrue();
          assertThat(r.getString(1)).isEqualTo("n" + id);
          assertThat(names(3)).isEqualTo("n3");
        }
        assertThat(r.next()).isFalse();
      }
    }
  }

  @Test
  void closingTwiceLendsItOnce() throws SQLException {
    PreparedStatement one = connection.prepareStatement(NAMES);
    one.close();
    one.close();
    try (PreparedStatement a = connection.prepareStatement(NAMES);
        PreparedStatement b = connection.prepareStatement(NAMES)) {
      assertThat(a).isNotSameAs(b);
    }
  }

  @Test
  void whatWasBoundBeforeIsForgotten() throws SQLException {
    try (PreparedStatement s = connection.prepareStatement(ADD)) {
      s.setInt(1, 4);
      s.setString(2, "left behind");
    }
    try (PreparedStatement s = connection.prepareStatement(ADD)) {
      s.setInt(1, 4);
      s.executeUpdate();
    }
    try (PreparedStatement s = connection.prepareStatement("select name from thing where id = 4");
        ResultSet r = s.executeQuery()) {
      assertThat(r.next()).isTrue();
      assertThat(r.getString(1)).isNull();
    }
  }

  @Test
  void aBatchThatWasNeverRunIsForgotten() throws SQLException {
    try (PreparedStatement s = connection.prepareStatement(ADD)) {
      s.setInt(1, 7);
      s.setString(2, "never");
      s.addBatch();
    }
    try (PreparedStatement s = connection.prepareStatement(ADD)) {
      s.setInt(1, 8);
      s.setString(2, "n8");
      s.addBatch();
      assertThat(s.executeBatch()).hasSize(1);
    }
    assertThat(names(4)).isEqualTo("n8");
  }

  @Test
  void oneThatFailedWorksAgain() throws SQLException {
    assertThatThrownBy(() -> add(1, "twice")).isInstanceOf(SQLException.class);
    add(5, "n5");
    assertThat(names(3)).isEqualTo("n3n5");
  }

  @Test
  void anAnswerThatNobodyReadHoldsNothingUp() throws SQLException {
    connection.setAutoCommit(false);
    try (PreparedStatement s = connection.prepareStatement(NAMES)) {
      s.setInt(1, 1);
      s.execute();
    }
    try (PreparedStatement s = connection.prepareStatement(NAMES)) {
      s.setInt(1, 1);
      assertThat(s.executeQuery().next()).isTrue();
    }
    // SQLite refuses this while a statement still reads the table: SQLITE_LOCKED.
    run("drop table thing");
    connection.commit();
    connection.setAutoCommit(true);
  }

  @Test
  void anotherColumnIsSeenByAStatementMadeBeforeIt() throws SQLException {
    names(1);
    run("alter table thing add column more text");
    run("update thing set name = name || '!'");
    assertThat(names(3)).isEqualTo("n3!");
  }

  @Test
  void moreTextsThanAreKeptAllAnswer() throws SQLException {
    for (int round = 0; round < 2; round++)
      for (int i = 0; i < ReusingSource.MOST_IDLE + 10; i++)
        try (PreparedStatement s = connection.prepareStatement("select " + i);
            ResultSet r = s.executeQuery()) {
          assertThat(r.next()).isTrue();
          assertThat(r.getInt(1)).isEqualTo(i);
        }
  }
}
