package milewarden.statistics;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;

/** Reads the published values that lie beside the tests. */
final class Published {
  private Published() {}

  /** The rows of a file under {@code statistics/}, by the names of its first line. */
  static List<Map<String, String>> rows(String file) {
    var in =
        Objects.requireNonNull(Published.class.getResourceAsStream("/statistics/" + file), file);
    try (var reader = new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8))) {
      String[] names = reader.readLine().split(",");
      List<Map<String, String>> rows = new ArrayList<>();
      for (String line = reader.readLine(); line != null; line = reader.readLine()) {
        if (line.isBlank()) continue;
        String[] cells = line.split(",", -1);
        Map<String, String> row = new HashMap<>();
        for (int i = 0; i < names.length && i < cells.length; i++) row.put(names[i], cells[i]);
        rows.add(row);
      }
      return rows;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  static double[] column(String file, String name) {
    return rows(file).stream().mapToDouble(r -> number(r, name)).toArray();
  }

  static double number(Map<String, String> row, String name) {
    return Double.parseDouble(Objects.requireNonNull(row.get(name), name));
  }
}
