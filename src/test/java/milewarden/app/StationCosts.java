package milewarden.app;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.locks.LockSupport;
import java.util.stream.Stream;

/**
 * What some stations and their database spend between two moments: processor seconds of either, the
 * bytes of the write-ahead log, and the share of the time in which one of them had the turn to
 * write. Linux only: processes that the database ended meanwhile are read from /proc.
 */
final class StationCosts implements AutoCloseable {
  // Ticks of /proc/PID/stat: sysconf(_SC_CLK_TCK), 100 on every Linux of today (proc(5)).
  private static final double TICKS = 100;
  private static final long LOOK = 10_000_000;

  private final List<Station> stations;
  private final Connection connection;
  private final ProcessHandle own;
  private final ProcessHandle postmaster;
  private final Thread watch;
  private volatile boolean over;
  private volatile long looks;
  private volatile long taken;
  private volatile long waiting;

  StationCosts(String url, List<Station> stations) throws SQLException {
    this.stations = stations;
    this.connection = DriverManager.getConnection(url, "postgres", null);
    this.own = ProcessHandle.of(one("select pg_backend_pid()")).orElseThrow();
    this.postmaster = own.parent().orElseThrow();
    this.watch = new Thread(this::watch, "turn");
    watch.setDaemon(true);
  }

  /** What was spent up to now. */
  record Spent(double stations, double database, long log, long nanos) {
    Spent since(Spent before) {
      return new Spent(
          stations - before.stations,
          database - before.database,
          log - before.log,
          nanos - before.nanos);
    }
  }

  Spent spent() throws SQLException, IOException {
    double ours = 0;
    for (Station station : stations) ours += station.processor().toNanos() / 1e9;
    return new Spent(
        ours,
        database(),
        one("select pg_wal_lsn_diff(pg_current_wal_insert_lsn(), '0/0')::bigint"),
        System.nanoTime());
  }

  void startWatch() {
    watch.start();
  }

  /** How much of the time one of them had its turn to write, from 0 to 1. */
  double turnTaken() {
    return (double) taken / looks;
  }

  /** How many waited for their turn, on average. */
  double waiting() {
    return (double) waiting / looks;
  }

  private double database() throws IOException {
    double seconds = ended();
    for (ProcessHandle part : Stream.concat(Stream.of(postmaster), postmaster.children()).toList())
      if (!part.equals(own))
        seconds += part.info().totalCpuDuration().orElse(Duration.ZERO).toNanos() / 1e9;
    return seconds;
  }

  // Of processes that ended: cutime and cstime, fields 16 and 17.
  private double ended() throws IOException {
    String stat = Files.readString(Path.of("/proc/" + postmaster.pid() + "/stat"));
    String[] fields = stat.substring(stat.lastIndexOf(')') + 2).split(" ", -1);
    return (Long.parseLong(fields[13]) + Long.parseLong(fields[14])) / TICKS;
  }

  private void watch() {
    try (Statement statement = connection.createStatement()) {
      while (!over) {
        try (ResultSet row =
            statement.executeQuery(
                "select count(*) filter (where granted), count(*) filter (where not granted)"
                    + " from pg_locks where locktype = 'advisory'")) {
          row.next();
          looks++;
          taken += row.getLong(1);
          waiting += row.getLong(2);
        }
        LockSupport.parkNanos(LOOK);
      }
    } catch (SQLException e) {
      if (!over) throw new IllegalStateException(e);
    }
  }

  private long one(String sql) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet row = statement.executeQuery(sql)) {
      row.next();
      return row.getLong(1);
    }
  }

  @Override
  public void close() throws Exception {
    over = true;
    watch.join();
    connection.close();
  }
}
