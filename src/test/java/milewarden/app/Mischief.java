package milewarden.app;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Random;

/** Does to a data folder what disks and other programs do, one thing after another. */
final class Mischief implements Runnable {
  private final Path data;
  private final List<What> kinds;
  private final List<String> groups;
  private final Random random;
  private final Map<What, Integer> done = new EnumMap<>(What.class);
  private volatile boolean ended;

  /** What is done. */
  enum What {
    /** Another program holds the database's lock, at times longer than a writer waits. */
    LOCKED,
    /** A folder that files go to can't be written. */
    BLOCKED,
    /** Not a byte is left on the disk; only on a file system made for it. */
    FULL
  }

  Mischief(Path data, List<What> kinds, List<String> groups, long seed) {
    this.data = data;
    this.kinds = kinds;
    this.groups = groups;
    this.random = new Random(seed);
  }

  /** How often each was done. */
  Map<What, Integer> done() {
    return done;
  }

  void end() {
    ended = true;
  }

  @Override
  public void run() {
    try {
      while (!ended) {
        Thread.sleep(200 + random.nextInt(1500));
        What what = kinds.get(random.nextInt(kinds.size()));
        switch (what) {
          case LOCKED -> locked();
          case BLOCKED -> blocked();
          case FULL -> full();
        }
        done.merge(what, 1, Integer::sum);
      }
    } catch (InterruptedException | IOException e) {
      throw new IllegalStateException(e);
    }
  }

  private void locked() throws InterruptedException {
    try (Connection other =
            DriverManager.getConnection("jdbc:sqlite:" + data.resolve("milewarden.db"));
        Statement statement = other.createStatement()) {
      statement.execute("begin immediate");
      // The busy timeout of the server is 5 s.
      Thread.sleep(random.nextInt(4) == 0 ? 6000 : random.nextInt(500));
      statement.execute("rollback");
    } catch (SQLException e) {
      // The server has the lock, or no store was made yet.
    }
  }

  private void blocked() throws IOException, InterruptedException {
    Path folder = data.resolve("done").resolve(groups.get(random.nextInt(groups.size())));
    Path parent = folder.getParent();
    if (Files.exists(folder) || parent == null) return;
    Files.createDirectories(parent);
    Files.createFile(folder);
    Thread.sleep(random.nextInt(2000));
    Files.delete(folder);
  }

  private void full() throws IOException, InterruptedException {
    Path ballast = data.resolve("ballast");
    byte[] block = new byte[1 << 16];
    try (OutputStream out = Files.newOutputStream(ballast)) {
      for (int size = block.length; size > 0; ) {
        try {
          out.write(block, 0, size);
        } catch (IOException e) {
          size /= 2;
        }
      }
    }
    Thread.sleep(500 + random.nextInt(2500));
    Files.delete(ballast);
  }
}
