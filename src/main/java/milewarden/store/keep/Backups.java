package milewarden.store.keep;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import milewarden.recipient.DailyTime;
import milewarden.store.StoreSettings;
import milewarden.store.StoreUnavailable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * A backup each day in one folder, the newest of them kept. A copy has its day's name, so that none
 * is made twice, whatever the clock did.
 */
public final class Backups {
  private static final Logger LOG = LoggerFactory.getLogger(Backups.class);
  private static final String NAME = "milewarden-\\d{4}-\\d{2}-\\d{2}\\.(db|zip)";

  private final StoreSettings store;
  private final Settings settings;
  private volatile Optional<String> trouble = Optional.empty();

  /**
   * When and where.
   *
   * @param keep so many copies stay; at least one
   * @param beside what goes with the store
   */
  public record Settings(Path folder, DailyTime at, int keep, StoreCopy.Beside beside) {
    public Settings {
      if (keep < 1) throw new IllegalArgumentException("keep: " + keep);
    }
  }

  public Backups(StoreSettings store, Settings settings) {
    this.store = store;
    this.settings = settings;
  }

  /** Why the last copy was not made, as a sentence; empty where it was. */
  public Optional<String> trouble() {
    return trouble;
  }

  /** Makes the copy whose time has come and is not there yet, and deletes those too many. */
  public void make(Instant now) {
    LocalDate day = settings.at().latest(now);
    Path file = settings.folder().resolve("milewarden-" + day + ".zip");
    try {
      if (Files.exists(file)) return;
      Files.createDirectories(settings.folder());
      Optional<String> refused =
          StoreCopy.make(store, settings.beside(), file, InstantSource.fixed(now));
      if (refused.isPresent()) failed(refused.get());
      else {
        trouble = Optional.empty();
        LOG.info("the store was backed up to {}", file);
        deleteOld(file);
      }
    } catch (IOException e) {
      failed(settings.folder() + " can't be written: " + e);
    } catch (StoreUnavailable e) {
      failed(String.valueOf(e.getMessage()));
    }
  }

  private void failed(String why) {
    String sentence = "The daily backup was not made: " + why;
    // The same every few minutes is told once.
    if (!trouble.equals(Optional.of(sentence))) LOG.error(sentence);
    trouble = Optional.of(sentence);
  }

  private void deleteOld(Path made) throws IOException {
    List<Path> copies;
    try (Stream<Path> all = Files.list(settings.folder())) {
      copies =
          all.filter(f -> f.getFileName().toString().matches(NAME))
              .filter(f -> !f.equals(made))
              .sorted()
              .toList();
    }
    for (int i = 0; i < copies.size() + 1 - settings.keep(); i++) {
      Files.delete(copies.get(i));
      Files.deleteIfExists(copies.get(i).resolveSibling(copies.get(i).getFileName() + ".sha256"));
    }
  }
}
