package milewarden.cli.export;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import milewarden.accuracy.Engine;
import milewarden.store.ChangeRecord;
import milewarden.store.Database;
import milewarden.store.Tx;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;

/**
 * Writes all runs, the results that count and every verdict as CSV, and {@value #DICTIONARY}, which
 * says of every column what it means and its unit. All files are of one moment of the store.
 */
final class Export {
  /** The file that explains the others. */
  static final String DICTIONARY = "dictionary.csv";

  /** Runs that are held in memory at once: our own choice, some hundred kilobytes. */
  private static final int AT_ONCE = 500;

  private final Path folder;
  private final List<Path> written = new ArrayList<>();
  private final List<String> unread = new ArrayList<>();

  private Export(Path folder) {
    this.folder = folder;
  }

  /**
   * What was written.
   *
   * @param files in the order written
   * @param unread verdicts whose record can't be read: their rows have no figures
   */
  record Written(List<Path> files, List<String> unread) {
    Written {
      files = List.copyOf(files);
      unread = List.copyOf(unread);
    }
  }

  /**
   * Writes into a folder, which is made where it is not there; files of these names are replaced.
   *
   * @return what was written
   * @throws UncheckedIOException where the folder cannot be written
   */
  static Written into(Path folder, Database database) {
    Export export = new Export(folder);
    try {
      Files.createDirectories(folder);
      export.dictionary();
    } catch (IOException e) {
      throw new UncheckedIOException(folder + " can't be written", e);
    }
    return database.read(
        tx -> {
          export.tables(tx);
          return new Written(export.written, export.unread);
        });
  }

  private void tables(Tx tx) {
    try (Writer runs = open(Tables.RUNS.file());
        Writer results = open(Tables.RESULTS.file());
        Writer verdicts = open(Tables.VERDICTS.file());
        Writer changes = open(Tables.CHANGES.file())) {
      Tables.RUNS.head(runs);
      Tables.RESULTS.head(results);
      int seen = 0;
      for (List<Runs.Run> page = Runs.page(tx, AT_ONCE, 0);
          !page.isEmpty();
          page = Runs.page(tx, AT_ONCE, seen)) {
        Tables.RUNS.rows(runs, page);
        Tables.RESULTS.rows(results, Results.page(tx, Engine.VERSION, AT_ONCE, seen));
        seen += page.size();
      }
      Tables.VERDICTS.head(verdicts);
      List<VerdictRow> published = VerdictRow.all(tx);
      Tables.VERDICTS.rows(verdicts, published);
      published.stream()
          .filter(v -> v.verdict().isEmpty())
          .forEach(v -> unread.add(v.line().named()));
      changes(tx, changes);
    } catch (IOException e) {
      throw new UncheckedIOException(folder + " can't be written", e);
    }
  }

  private static void changes(Tx tx, Writer to) throws IOException {
    Tables.CHANGES.head(to);
    int seen = 0;
    for (List<ChangeRecord.Change> page = ChangeRecord.page(tx, AT_ONCE, 0);
        !page.isEmpty();
        page = ChangeRecord.page(tx, AT_ONCE, seen)) {
      Tables.CHANGES.rows(to, page);
      seen += page.size();
    }
  }

  private void dictionary() throws IOException {
    try (Writer to = open(DICTIONARY)) {
      Table.line(to, List.of("file", "column", "unit", "meaning"));
      for (Table<?> table : Tables.all())
        for (Column<?> c : table.columns())
          Table.line(to, List.of(table.file(), c.name(), c.unit(), c.meaning()));
    }
  }

  private Writer open(String name) throws IOException {
    Path file = folder.resolve(name);
    written.add(file);
    return Files.newBufferedWriter(file, StandardCharsets.UTF_8);
  }
}
