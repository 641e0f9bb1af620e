package milewarden.app;

import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/**
 * What was found of the invented campaign while it was played; kept as a file in the demo's folder,
 * so that a second start finds the folder finished.
 *
 * @param today the day that the campaign was made for, ISO
 */
record DemoRecord(String today, long seed, List<Found> found) {
  private static final String FILE = "demo.json";
  private static final JsonMapper JSON = JsonMapper.builder().build();

  DemoRecord {
    found = List.copyOf(found);
  }

  /** The last comparison of a release with the one that it was held against. */
  record Found(
      String model,
      String firmware,
      String outcome,
      String because,
      String against,
      int sessions,
      double percent,
      double lowPercent,
      double highPercent) {}

  LocalDate day() {
    return LocalDate.parse(today);
  }

  Optional<Found> of(String model, String firmware) {
    return found.stream()
        .filter(f -> f.model().equals(model) && f.firmware().equals(firmware))
        .findFirst();
  }

  /** The record of a folder whose campaign was played to its end. */
  static Optional<DemoRecord> read(Path data) {
    Path file = data.resolve(FILE);
    if (!Files.exists(file)) return Optional.empty();
    try {
      return Optional.of(JSON.readValue(Files.readString(file), DemoRecord.class));
    } catch (IOException e) {
      throw new UncheckedIOException(
          file + " can't be read; remove the folder " + data + " and start the demo again", e);
    }
  }

  void write(Path data) {
    try {
      Path half = data.resolve(FILE + ".part");
      Files.writeString(half, JSON.writeValueAsString(this));
      Files.move(half, data.resolve(FILE), StandardCopyOption.ATOMIC_MOVE);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
